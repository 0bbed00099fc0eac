DELETE FROM promise_before WHERE tree = ?1 AND day = ?2
