INSERT INTO liking (tree, liked, over, day) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT DO NOTHING
