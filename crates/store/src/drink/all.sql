SELECT id, tree, at, deed, grams, remark, hand FROM drink ORDER BY at, id
