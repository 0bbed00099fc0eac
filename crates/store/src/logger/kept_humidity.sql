SELECT count(DISTINCT at) FROM logged_humidity WHERE place = ?1
