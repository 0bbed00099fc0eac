INSERT INTO mix (key, name, grain_low, grain_high, height, volume, dry, flooded, drained, inside)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
ON CONFLICT (key) DO NOTHING
