INSERT INTO layer (tree, limb, way, day, seen, roots, branched, apart, child, lean, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)
ON CONFLICT DO NOTHING
