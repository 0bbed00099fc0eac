SELECT item, amount, pack, delivery, day FROM stock ORDER BY item
