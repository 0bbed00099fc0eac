-- The share of the roots that a line of work cut, which stood in its note until now. Only the program's own sentence is read.
ALTER TABLE work ADD COLUMN roots REAL CHECK (roots IS NULL OR (roots BETWEEN 0 AND 0.9 AND kind = 'repot'));

UPDATE work SET roots = CAST(substr(note, 11) AS REAL) / 100
WHERE kind = 'repot'
AND (note GLOB 'cut about [1-9] % of the roots' OR note GLOB 'cut about [1-8][0-9] % of the roots')
AND NOT EXISTS (SELECT 1 FROM repot WHERE repot.tree = work.tree AND repot.day = work.day);

UPDATE OR IGNORE work SET note = ''
WHERE kind = 'repot'
AND (note GLOB 'cut about [1-9] % of the roots' OR note GLOB 'cut about [1-8][0-9] % of the roots')
AND (roots IS NOT NULL OR EXISTS (SELECT 1 FROM repot WHERE repot.tree = work.tree AND repot.day = work.day));
