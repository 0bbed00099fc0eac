INSERT INTO logged_hour (place, sensor, at, temperature, filled) VALUES (?1, ?2, ?3, ?4, ?5)
ON CONFLICT (place, sensor, at) DO UPDATE SET temperature = excluded.temperature, filled = excluded.filled
WHERE (filled AND NOT excluded.filled) OR (filled = excluded.filled AND temperature <> excluded.temperature)
