INSERT INTO limb (tree, number, bearer, name, clock, tips, since, gone)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
ON CONFLICT (tree, number) DO UPDATE SET
    bearer = excluded.bearer, name = excluded.name, clock = excluded.clock, tips = excluded.tips, gone = coalesce(gone, excluded.gone)
WHERE (bearer, name, clock, tips, gone) IS NOT (excluded.bearer, excluded.name, excluded.clock, excluded.tips, coalesce(gone, excluded.gone))
