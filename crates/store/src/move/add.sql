INSERT INTO move (tree, place, day) VALUES (?1, ?2, ?3)
ON CONFLICT (tree, day) DO UPDATE SET place = excluded.place WHERE place <> excluded.place
