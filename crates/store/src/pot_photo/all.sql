SELECT key, pot, day, side, wide, high FROM pot_photo ORDER BY pot, day, key
