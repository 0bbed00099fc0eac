SELECT key, tree, day, day_told, subject, clock, wide, high, scale, soil, note FROM photo ORDER BY tree, day, key
