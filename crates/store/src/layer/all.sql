SELECT id, tree, limb, way, day, seen, roots, apart, child, lean, note FROM layer ORDER BY day, id
