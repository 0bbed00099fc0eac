INSERT INTO site (only, name, latitude, longitude, elevation, zone, units)
VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6)
ON CONFLICT (only) DO UPDATE SET
    name = excluded.name, latitude = excluded.latitude, longitude = excluded.longitude,
    elevation = excluded.elevation, zone = excluded.zone, units = excluded.units
WHERE (name, latitude, longitude, elevation, zone, units)
    IS NOT (excluded.name, excluded.latitude, excluded.longitude, excluded.elevation, excluded.zone, excluded.units)
