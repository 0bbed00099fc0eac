INSERT INTO away (uid, start, finish, words) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (uid, start) DO UPDATE SET finish = excluded.finish, words = excluded.words
WHERE finish <> excluded.finish OR words <> excluded.words
