INSERT INTO typical_day (day_of_year, low, high) VALUES (?1, ?2, ?3)
ON CONFLICT (day_of_year) DO UPDATE SET low = excluded.low, high = excluded.high
WHERE low <> excluded.low OR high <> excluded.high
