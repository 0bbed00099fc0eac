INSERT INTO trace (photo, tree, limb, points)
SELECT key, tree, ?2, ?3 FROM photo WHERE key = ?1
ON CONFLICT (photo, limb) DO UPDATE SET points = excluded.points
WHERE points IS NOT excluded.points
