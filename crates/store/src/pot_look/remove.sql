DELETE FROM pot_look WHERE tree = ?1 AND day = ?2
