SELECT count(*) FROM modelled_day AS m LEFT JOIN station_day AS s USING (date)
WHERE date <= ?1 AND (s.low IS NULL OR s.high IS NULL)
