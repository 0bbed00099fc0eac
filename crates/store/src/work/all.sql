SELECT tree, day, kind, note FROM work ORDER BY day, id
