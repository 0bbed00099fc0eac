SELECT tree, style, kind, feel, age, shown, asked_coins, asked_currency FROM grown ORDER BY tree
