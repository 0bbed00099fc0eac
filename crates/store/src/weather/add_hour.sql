INSERT INTO station_hour (at, temperature) VALUES (?1, ?2)
ON CONFLICT (at) DO UPDATE SET temperature = excluded.temperature WHERE temperature <> excluded.temperature
