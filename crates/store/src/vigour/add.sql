INSERT INTO vigour (tree, day, strength, why) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (tree, day) DO UPDATE SET strength = excluded.strength, why = excluded.why
WHERE strength <> excluded.strength OR why <> excluded.why
