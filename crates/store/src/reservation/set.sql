INSERT INTO reservation (pot, tree, season, said, why, made) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (pot, tree, season) DO UPDATE SET said = excluded.said, why = excluded.why, made = excluded.made
