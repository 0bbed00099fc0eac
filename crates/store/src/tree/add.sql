INSERT INTO tree (key, name, taxon, name_confidence, since, note, worth)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT (key) DO NOTHING
