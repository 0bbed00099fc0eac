SELECT value FROM air_reading WHERE place = ?1 AND sensor IN (?4, '') AND kind = ?2 AND at = ?3 ORDER BY sensor DESC LIMIT 1
