DELETE FROM stature WHERE tree = ?1 AND day = ?2
