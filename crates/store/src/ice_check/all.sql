SELECT id, place, sensor, day, shown FROM ice_check ORDER BY place, sensor, day
