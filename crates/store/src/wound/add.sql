INSERT INTO wound (tree, limb, day, wide, sealed, closed, note) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT DO NOTHING
