SELECT metal, gauge, grams FROM coil ORDER BY metal, gauge
