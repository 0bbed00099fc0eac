SELECT id, tree, limb, day, wide, sealed, closed, note FROM wound ORDER BY day, id
