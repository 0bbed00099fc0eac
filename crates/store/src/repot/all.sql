SELECT tree, day, pot, mix, cut, bare, found, proud, clock, sideways, forward, pad_length, pad_width, pad_depth, photo, took, note
FROM repot ORDER BY tree, day
