INSERT INTO reading_hour (place, at, sum, count) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (place, at) DO UPDATE SET sum = sum + excluded.sum, count = count + excluded.count
