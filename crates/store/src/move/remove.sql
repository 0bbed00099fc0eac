DELETE FROM move WHERE tree = ?1 AND day = ?2
