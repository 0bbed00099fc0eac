INSERT INTO work (tree, day, kind, roots, note) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT (tree, day, kind, note) DO UPDATE SET roots = excluded.roots
WHERE excluded.roots IS NOT NULL AND roots IS NOT excluded.roots
