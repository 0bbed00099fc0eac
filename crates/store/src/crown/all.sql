SELECT tree, day, length, width FROM crown ORDER BY tree, day
