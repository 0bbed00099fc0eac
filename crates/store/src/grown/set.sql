INSERT INTO grown (tree, style, kind, feel, age, shown, asked_coins, asked_currency)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
ON CONFLICT (tree) DO UPDATE SET
    style = excluded.style, kind = excluded.kind, feel = excluded.feel, age = excluded.age, shown = excluded.shown,
    asked_coins = excluded.asked_coins, asked_currency = excluded.asked_currency
WHERE (style, kind, feel, age, shown, asked_coins, asked_currency)
    IS NOT (excluded.style, excluded.kind, excluded.feel, excluded.age, excluded.shown, excluded.asked_coins, excluded.asked_currency)
