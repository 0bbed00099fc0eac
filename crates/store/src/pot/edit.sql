UPDATE pot SET
    name = ?2, outline = ?3, length = ?4, width = ?5, shape = ?6, middle_length = ?7, middle_width = ?8, bottom_length = ?9,
    bottom_width = ?10, height = ?11, feet = ?12, floor = ?13, thick = ?14, lip = ?15, gap = ?16, measured = ?17, wall = ?18
WHERE key = ?1
