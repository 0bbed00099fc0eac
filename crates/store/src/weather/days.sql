SELECT date, iif(s.low IS NULL OR s.high IS NULL, coalesce(m.low, s.low), s.low),
    iif(s.low IS NULL OR s.high IS NULL, coalesce(m.high, s.high), s.high), s.rain
FROM station_day AS s FULL JOIN modelled_day AS m USING (date)
ORDER BY date
