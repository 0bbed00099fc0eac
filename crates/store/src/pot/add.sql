INSERT INTO pot (key, name, outline, length, width, shape, middle_length, middle_width, bottom_length, bottom_width,
                 height, feet, floor, thick, lip, gap, measured, wall)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18)
ON CONFLICT (key) DO NOTHING
