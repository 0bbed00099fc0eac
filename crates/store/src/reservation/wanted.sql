SELECT pot, tree, season, said, why, made FROM reservation
WHERE tree = ?1 AND season = ?2 AND said <> 'never'
ORDER BY pot
