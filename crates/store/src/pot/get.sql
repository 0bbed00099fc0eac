SELECT key, name, outline, length, width, shape, middle_length, middle_width, bottom_length, bottom_width,
       height, feet, floor, thick, lip, gap, measured, wall
FROM pot WHERE key = ?1
