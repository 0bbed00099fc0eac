INSERT INTO station_day (date, low, high, rain) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (date) DO UPDATE SET
    low = excluded.low, high = excluded.high, rain = coalesce(excluded.rain, rain), modelled = 0
WHERE modelled OR low <> excluded.low OR high <> excluded.high
    OR (excluded.rain IS NOT NULL AND rain IS NOT excluded.rain)
