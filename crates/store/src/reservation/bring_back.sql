INSERT INTO reservation (pot, tree, season, said, why, made)
SELECT ?1, ?2, ?3, ?4, ?5, ?6
WHERE NOT EXISTS (SELECT 1 FROM ware WHERE pot = ?1 AND (training = 1 OR whereabouts IN ('gone', 'broken')))
  AND NOT (?4 IN ('promised', 'kept-for')
           AND EXISTS (SELECT 1 FROM reservation WHERE pot = ?1 AND season = ?3 AND said IN ('promised', 'kept-for')))
ON CONFLICT (pot, tree, season) DO NOTHING
