INSERT INTO repot (tree, day, pot, mix, cut, bare, found, proud, clock, sideways, forward, pad_length, pad_width, pad_depth,
                   photo, took, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)
ON CONFLICT (tree, day) DO NOTHING
