INSERT INTO token (name, hash, made) VALUES (?1, ?2, ?3) ON CONFLICT (name) DO NOTHING
