SELECT tree, day, height, trunk FROM stature ORDER BY tree, day
