UPDATE ware SET
    training = ?2, count = ?3, shape = ?4, finish = ?5, fired = ?6, drain_holes = ?7, hole = ?8, tie_holes = ?9,
    feel = ?10, features = ?11, glaze_l = ?12, glaze_a = ?13, glaze_b = ?14, glaze_spread = ?15, empty = ?16,
    maker = ?17, mark = ?18, kiln = ?19, origin = ?20, era = ?21, bought = ?22, paid_coins = ?23,
    paid_currency = ?24, seller = ?25, condition = ?26, worth_coins = ?27, worth_currency = ?28, worth_day = ?29,
    whereabouts = ?30, spot = ?31, note = ?32,
    revision = revision + 1
WHERE pot = ?1 AND revision = ?33
