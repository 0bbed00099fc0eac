INSERT INTO pot_photo (key, pot, day, side, wide, high, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT DO NOTHING
