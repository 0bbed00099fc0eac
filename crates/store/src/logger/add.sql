INSERT INTO logged_hour (place, at, temperature, filled) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (place, at) DO UPDATE SET temperature = excluded.temperature, filled = excluded.filled
WHERE (filled AND NOT excluded.filled) OR (filled = excluded.filled AND temperature <> excluded.temperature)
