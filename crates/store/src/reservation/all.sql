SELECT pot, tree, season, said, why, made FROM reservation ORDER BY season, pot, tree
