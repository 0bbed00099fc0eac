INSERT INTO forecast_hour (at, temperature, fetched) VALUES (?1, ?2, ?3)
