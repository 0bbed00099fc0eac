SELECT id, tree, day, kind, note FROM work ORDER BY day, id
