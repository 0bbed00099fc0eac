INSERT INTO potted (tree, day, pot, mix) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree, day) DO NOTHING
