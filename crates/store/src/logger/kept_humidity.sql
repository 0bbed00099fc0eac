SELECT count(*) FROM logged_humidity WHERE place = ?1
