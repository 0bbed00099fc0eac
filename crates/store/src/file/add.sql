INSERT INTO file (hash, name, kind, bytes) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (hash) DO NOTHING
