INSERT INTO layer (tree, limb, way, day, seen, roots, apart, child, lean, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
ON CONFLICT DO NOTHING
