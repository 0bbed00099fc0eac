SELECT id, tree, day, what, amount, note FROM toll ORDER BY day, id
