INSERT INTO air_reading (place, kind, at, value) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (place, kind, at) DO NOTHING
