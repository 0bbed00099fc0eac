INSERT INTO look (tree, day, stage, sureness, note) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT DO NOTHING
