SELECT id FROM incident WHERE place = ?1 AND said = 'happened' AND since < ?3 AND until > ?2
