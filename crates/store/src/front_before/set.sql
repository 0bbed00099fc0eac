INSERT INTO front_before (tree, day, clock, sideways, forward, why, set_clock, set_sideways, set_forward, set_why)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
ON CONFLICT (tree, day) DO UPDATE SET
    clock = excluded.clock, sideways = excluded.sideways, forward = excluded.forward, why = excluded.why,
    set_clock = excluded.set_clock, set_sideways = excluded.set_sideways, set_forward = excluded.set_forward,
    set_why = excluded.set_why
