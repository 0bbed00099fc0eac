SELECT sensor, at, sum / count FROM reading_hour WHERE place = ?1 AND at >= ?2 ORDER BY sensor, at
