SELECT grams FROM weight_reading WHERE tree = ?1 AND at = ?2
