DELETE FROM potted WHERE tree = ?1 AND day = ?2
