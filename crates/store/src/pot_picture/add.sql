INSERT INTO pot_picture (photo, size, bytes) VALUES (?1, ?2, ?3)
