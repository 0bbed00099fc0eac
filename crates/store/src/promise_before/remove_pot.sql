DELETE FROM promise_before WHERE pot = ?1
