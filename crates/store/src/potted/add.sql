INSERT INTO potted (tree, day, pot, mix) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree, day) DO UPDATE SET pot = excluded.pot, mix = excluded.mix
WHERE pot <> excluded.pot OR mix <> excluded.mix
