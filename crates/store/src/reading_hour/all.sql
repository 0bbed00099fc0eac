SELECT at, sum / count, 0 FROM reading_hour WHERE place = ?1 ORDER BY at
