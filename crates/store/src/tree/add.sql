INSERT INTO tree (key, name, taxon, name_confidence, since, note, worth, candidates)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
ON CONFLICT (key) DO NOTHING
