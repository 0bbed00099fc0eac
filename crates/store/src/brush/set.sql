INSERT INTO brush (photo, strokes) VALUES (?1, ?2)
ON CONFLICT (photo) DO UPDATE SET strokes = excluded.strokes
WHERE strokes IS NOT excluded.strokes
