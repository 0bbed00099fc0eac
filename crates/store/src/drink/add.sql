INSERT INTO drink (tree, at, deed, grams, remark, hand, sure) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT DO NOTHING
