INSERT INTO station_day (date, low, high, rain) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (date) DO UPDATE SET
    low = iif(excluded.low IS NULL AND low > excluded.high, NULL, coalesce(excluded.low, low)),
    high = iif(excluded.high IS NULL AND high < excluded.low, NULL, coalesce(excluded.high, high)),
    rain = coalesce(excluded.rain, rain)
WHERE (excluded.low IS NOT NULL AND low IS NOT excluded.low) OR (excluded.high IS NOT NULL AND high IS NOT excluded.high)
    OR (excluded.rain IS NOT NULL AND rain IS NOT excluded.rain)
