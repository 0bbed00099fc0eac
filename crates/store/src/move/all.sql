SELECT tree, place, day FROM move ORDER BY tree, day
