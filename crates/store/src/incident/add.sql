INSERT INTO incident (place, cause, said, sensor, since, until, hours, lowest, highest, expected, day)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)
ON CONFLICT DO NOTHING
