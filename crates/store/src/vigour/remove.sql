DELETE FROM vigour WHERE tree = ?1 AND day = ?2
