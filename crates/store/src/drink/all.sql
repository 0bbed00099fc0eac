SELECT id, tree, at, deed, grams, remark, hand, sure FROM drink ORDER BY at, id
