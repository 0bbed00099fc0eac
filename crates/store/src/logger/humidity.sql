SELECT at, humidity FROM logged_humidity WHERE place = ?1 ORDER BY at
