INSERT INTO cut (tree, limb, day, kind, nodes, broke, buds, despite, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
ON CONFLICT DO NOTHING
