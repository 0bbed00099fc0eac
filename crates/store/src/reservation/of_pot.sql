SELECT pot, tree, season, said, why, made FROM reservation WHERE pot = ?1 ORDER BY season, tree
