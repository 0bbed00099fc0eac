INSERT INTO ware (pot, training, count, shape, finish, fired, drain_holes, hole, tie_holes, feel, features, glaze_l, glaze_a, glaze_b,
                  glaze_spread, empty, maker, mark, kiln, origin, era, bought, paid_coins, paid_currency, seller, condition, worth_coins,
                  worth_currency, worth_day, whereabouts, spot, note, revision)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23, ?24, ?25, ?26, ?27, ?28, ?29, ?30, ?31, ?32, 1)
ON CONFLICT (pot) DO NOTHING
