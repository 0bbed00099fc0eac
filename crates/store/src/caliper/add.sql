INSERT INTO caliper (tree, limb, day, along, thick) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT DO NOTHING
