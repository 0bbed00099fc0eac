DELETE FROM front_before WHERE tree = ?1 AND day = ?2
