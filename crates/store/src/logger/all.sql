SELECT at, temperature, filled FROM logged_hour WHERE place = ?1 ORDER BY at
