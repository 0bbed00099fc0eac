SELECT id, tree, limb, way, day, seen, roots, branched, apart, child, lean, note FROM layer ORDER BY day, id
