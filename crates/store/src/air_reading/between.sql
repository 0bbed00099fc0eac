SELECT kind, at, value FROM air_reading WHERE place = ?1 AND at >= ?2 AND at < ?3 ORDER BY at, kind, sensor
