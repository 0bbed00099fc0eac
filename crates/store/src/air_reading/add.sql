INSERT INTO air_reading (place, sensor, kind, at, value)
SELECT ?1, ?5, ?2, ?3, ?4
WHERE NOT EXISTS (SELECT 1 FROM air_reading WHERE place = ?1 AND sensor = '' AND kind = ?2 AND at = ?3 AND value = ?4)
ON CONFLICT (place, sensor, kind, at) DO NOTHING
