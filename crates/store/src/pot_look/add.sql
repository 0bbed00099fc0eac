INSERT INTO pot_look (tree, day, drained, twice_a_day, rocks, roots, crumbled, falling, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
ON CONFLICT (tree, day) DO UPDATE SET
    drained = excluded.drained, twice_a_day = excluded.twice_a_day, rocks = excluded.rocks, roots = excluded.roots,
    crumbled = excluded.crumbled, falling = excluded.falling, note = excluded.note
WHERE (drained, twice_a_day, rocks, roots, crumbled, falling, note)
    IS NOT (excluded.drained, excluded.twice_a_day, excluded.rocks, excluded.roots, excluded.crumbled, excluded.falling, excluded.note)
