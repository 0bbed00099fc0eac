INSERT INTO reading_hour (place, at, temperature)
SELECT ?1, ?2, avg(value) FROM air_reading
WHERE place = ?1 AND kind = 'temperature' AND at >= ?2 AND at < ?2 + 3600
HAVING count(*) > 0
ON CONFLICT (place, at) DO UPDATE SET temperature = excluded.temperature
