INSERT INTO crown (tree, day, length, width) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree, day) DO UPDATE SET length = excluded.length, width = excluded.width
WHERE length <> excluded.length OR width <> excluded.width
