SELECT id, place, cause, said, sensor, since, until, hours, lowest, highest, expected, day FROM incident ORDER BY since, id
