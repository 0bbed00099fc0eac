SELECT day, set_clock, set_sideways, set_forward, set_why, clock, sideways, forward, why FROM front_before
WHERE tree = ?1 ORDER BY day
