SELECT tree FROM reservation WHERE pot = ?1 AND season = ?2 AND tree <> ?3 AND said IN ('promised', 'kept-for')
