INSERT INTO coil (metal, gauge, grams) VALUES (?1, ?2, ?3)
ON CONFLICT (metal, gauge) DO UPDATE SET grams = excluded.grams
WHERE grams IS NOT excluded.grams
