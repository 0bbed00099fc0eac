INSERT INTO weight_reading (tree, at, grams) VALUES (?1, ?2, ?3) ON CONFLICT (tree, at) DO NOTHING
