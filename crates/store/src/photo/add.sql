INSERT INTO photo (key, tree, day, day_told, subject, clock, wide, high, scale, soil, note, hash)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)
ON CONFLICT DO NOTHING
