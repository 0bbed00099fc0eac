SELECT at, grams FROM weight_reading WHERE tree = ?1 ORDER BY at
