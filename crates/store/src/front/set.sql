INSERT INTO front (tree, rank, clock, sideways, forward, why) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (tree, rank) DO UPDATE SET
    clock = excluded.clock, sideways = excluded.sideways, forward = excluded.forward, why = excluded.why
WHERE (clock, sideways, forward, why) IS NOT (excluded.clock, excluded.sideways, excluded.forward, excluded.why)
