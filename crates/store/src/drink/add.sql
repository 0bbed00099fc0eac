INSERT INTO drink (tree, at, deed, grams, remark, hand) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT DO NOTHING
