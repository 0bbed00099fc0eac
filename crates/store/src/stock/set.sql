INSERT INTO stock (item, amount, pack, delivery, day) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT (item) DO UPDATE SET
    amount = excluded.amount, pack = excluded.pack, delivery = excluded.delivery, day = excluded.day
WHERE (amount, pack, delivery, day) IS NOT (excluded.amount, excluded.pack, excluded.delivery, excluded.day)
