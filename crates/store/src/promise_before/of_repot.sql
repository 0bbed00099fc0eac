SELECT pot, tree, season, said, why, made FROM promise_before WHERE tree = ?1 AND day = ?2 ORDER BY season, pot
