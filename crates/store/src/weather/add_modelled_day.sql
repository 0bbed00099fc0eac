INSERT INTO station_day (date, low, high, rain, modelled) VALUES (?1, ?2, ?3, ?4, 1)
ON CONFLICT (date) DO NOTHING
