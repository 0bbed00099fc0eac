INSERT INTO picture (photo, size, bytes) VALUES (?1, ?2, ?3)
