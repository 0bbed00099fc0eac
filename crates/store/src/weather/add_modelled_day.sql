INSERT INTO modelled_day (date, low, high) SELECT ?1, ?2, ?3
WHERE NOT EXISTS (SELECT 1 FROM station_day WHERE date = ?1 AND low IS NOT NULL AND high IS NOT NULL)
ON CONFLICT (date) DO NOTHING
