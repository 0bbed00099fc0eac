SELECT at, avg(humidity) FROM logged_humidity WHERE place = ?1 GROUP BY at ORDER BY at
