INSERT INTO tint (tree, season, l, a, b, measured) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (tree, season) DO UPDATE SET l = excluded.l, a = excluded.a, b = excluded.b, measured = excluded.measured
WHERE (l, a, b, measured) IS NOT (excluded.l, excluded.a, excluded.b, excluded.measured)
