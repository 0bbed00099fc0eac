INSERT INTO meant (tree, season, repot, cut, mix, show, why) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT (tree, season) DO UPDATE SET
    repot = excluded.repot, cut = excluded.cut, mix = excluded.mix, show = excluded.show, why = excluded.why
WHERE (repot, cut, mix, show, why) IS NOT (excluded.repot, excluded.cut, excluded.mix, excluded.show, excluded.why)
