INSERT INTO mix_part (mix, component, parts) VALUES (?1, ?2, ?3)
