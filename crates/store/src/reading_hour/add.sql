INSERT INTO reading_hour (place, sensor, at, sum, count) VALUES (?1, ?5, ?2, ?3, ?4)
ON CONFLICT (place, sensor, at) DO UPDATE SET sum = sum + excluded.sum, count = count + excluded.count
