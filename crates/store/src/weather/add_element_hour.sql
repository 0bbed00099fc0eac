INSERT INTO weather_hour (origin, at, humidity, dew_point, pressure, wind, radiation, sunshine, rain, rain_six_hours)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
ON CONFLICT (origin, at) DO UPDATE SET
    humidity = coalesce(excluded.humidity, humidity),
    dew_point = coalesce(excluded.dew_point, dew_point),
    pressure = coalesce(excluded.pressure, pressure),
    wind = coalesce(excluded.wind, wind),
    radiation = coalesce(excluded.radiation, radiation),
    sunshine = coalesce(excluded.sunshine, sunshine),
    rain = coalesce(excluded.rain, rain),
    rain_six_hours = coalesce(excluded.rain_six_hours, rain_six_hours)
WHERE (excluded.humidity IS NOT NULL AND humidity IS NOT excluded.humidity)
    OR (excluded.dew_point IS NOT NULL AND dew_point IS NOT excluded.dew_point)
    OR (excluded.pressure IS NOT NULL AND pressure IS NOT excluded.pressure)
    OR (excluded.wind IS NOT NULL AND wind IS NOT excluded.wind)
    OR (excluded.radiation IS NOT NULL AND radiation IS NOT excluded.radiation)
    OR (excluded.sunshine IS NOT NULL AND sunshine IS NOT excluded.sunshine)
    OR (excluded.rain IS NOT NULL AND rain IS NOT excluded.rain)
    OR (excluded.rain_six_hours IS NOT NULL AND rain_six_hours IS NOT excluded.rain_six_hours)
