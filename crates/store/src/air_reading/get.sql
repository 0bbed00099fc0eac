SELECT value FROM air_reading WHERE place = ?1 AND kind = ?2 AND at = ?3
