UPDATE mix
SET height = ?2, volume = ?3, dry = ?4, flooded = ?5, drained = ?6, inside = ?7
WHERE key = ?1
