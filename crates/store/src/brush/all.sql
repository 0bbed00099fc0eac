SELECT photo, strokes FROM brush ORDER BY photo
