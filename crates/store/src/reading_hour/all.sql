SELECT at, min(sum / count), 0 FROM reading_hour WHERE place = ?1 GROUP BY at ORDER BY at
