INSERT INTO work (tree, day, kind, note)
SELECT ?1, ?2, ?3, ?4
WHERE NOT EXISTS (SELECT 1 FROM work WHERE tree = ?1 AND day = ?2 AND kind IN ('repot', 'slip-pot'))
