INSERT INTO ice_check (place, sensor, day, shown) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (place, sensor, day) DO UPDATE SET shown = excluded.shown WHERE shown <> excluded.shown
