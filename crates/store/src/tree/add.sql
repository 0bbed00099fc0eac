INSERT INTO tree (key, name, taxon, name_confidence, since, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (key) DO NOTHING
