INSERT INTO toll (tree, day, what, amount, note) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT DO NOTHING
