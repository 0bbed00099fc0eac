INSERT INTO logged_humidity (place, sensor, at, humidity) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (place, sensor, at) DO UPDATE SET humidity = excluded.humidity WHERE humidity <> excluded.humidity
