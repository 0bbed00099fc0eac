DELETE FROM repot WHERE tree = ?1 AND day = ?2
