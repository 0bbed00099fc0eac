SELECT since, until, sensor FROM incident WHERE place = ?1 AND said = 'logger'
