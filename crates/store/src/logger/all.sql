SELECT at, temperature, filled, sensor FROM logged_hour WHERE place = ?1 ORDER BY sensor, at
