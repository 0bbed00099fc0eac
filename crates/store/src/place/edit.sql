UPDATE place
SET name = ?2, shelter = ?3, facing = ?4, lamp_flux = ?5, lamp_hours = ?6, capacity = ?7
WHERE key = ?1
