INSERT INTO work (tree, day, kind, note) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING
