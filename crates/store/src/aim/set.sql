INSERT INTO aim (tree, high, trunk, words) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree) DO UPDATE SET high = excluded.high, trunk = excluded.trunk, words = excluded.words
WHERE (high, trunk, words) IS NOT (excluded.high, excluded.trunk, excluded.words)
