SELECT id, tree, day, kind, roots, note FROM work ORDER BY day, id
