SELECT tree, day, pot, mix FROM potted ORDER BY tree, day
