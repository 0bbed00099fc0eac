SELECT at, sum / count, 0, sensor FROM reading_hour WHERE place = ?1 ORDER BY sensor, at
