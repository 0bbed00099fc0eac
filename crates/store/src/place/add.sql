INSERT INTO place (key, name, shelter, facing, lamp_flux, lamp_hours, capacity)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT (key) DO NOTHING
