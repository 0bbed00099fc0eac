INSERT INTO stature (tree, day, height, trunk) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree, day) DO UPDATE SET height = excluded.height, trunk = excluded.trunk
WHERE height <> excluded.height OR trunk <> excluded.trunk
