DELETE FROM meant WHERE tree = ?1 AND season = ?2
