SELECT pot, training, count, shape, finish, fired, drain_holes, hole, tie_holes, feel, features, glaze_l, glaze_a, glaze_b,
       glaze_spread, empty, maker, mark, kiln, origin, era, bought, paid_coins, paid_currency, seller, condition, worth_coins,
       worth_currency, worth_day, whereabouts, spot, note, revision
FROM ware ORDER BY rowid
