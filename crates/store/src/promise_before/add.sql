INSERT INTO promise_before (tree, day, pot, season, said, why, made) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
