INSERT INTO aim (tree, high, trunk, words, needles, shown) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (tree) DO UPDATE SET high = excluded.high, trunk = excluded.trunk, words = excluded.words,
    needles = excluded.needles, shown = excluded.shown
WHERE (high, trunk, words, needles, shown) IS NOT (excluded.high, excluded.trunk, excluded.words, excluded.needles, excluded.shown)
