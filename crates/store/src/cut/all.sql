SELECT id, tree, limb, day, kind, nodes, broke, buds, despite, note FROM cut ORDER BY day, id
