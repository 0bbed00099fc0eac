SELECT key, name, shelter, facing, lamp_flux, lamp_hours, capacity FROM place ORDER BY rowid
