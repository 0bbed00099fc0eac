INSERT INTO logged_humidity (place, at, humidity) VALUES (?1, ?2, ?3)
ON CONFLICT (place, at) DO UPDATE SET humidity = excluded.humidity WHERE humidity <> excluded.humidity
