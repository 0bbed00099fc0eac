INSERT INTO weather_day (date, mean, humidity, wind, radiation, sunshine)
VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (date) DO UPDATE SET
    mean = coalesce(excluded.mean, mean),
    humidity = coalesce(excluded.humidity, humidity),
    wind = coalesce(excluded.wind, wind),
    radiation = coalesce(excluded.radiation, radiation),
    sunshine = coalesce(excluded.sunshine, sunshine)
WHERE (excluded.mean IS NOT NULL AND mean IS NOT excluded.mean)
    OR (excluded.humidity IS NOT NULL AND humidity IS NOT excluded.humidity)
    OR (excluded.wind IS NOT NULL AND wind IS NOT excluded.wind)
    OR (excluded.radiation IS NOT NULL AND radiation IS NOT excluded.radiation)
    OR (excluded.sunshine IS NOT NULL AND sunshine IS NOT excluded.sunshine)
