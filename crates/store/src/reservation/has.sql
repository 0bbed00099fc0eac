SELECT 1 FROM reservation WHERE pot = ?1 AND tree = ?2 AND season = ?3
