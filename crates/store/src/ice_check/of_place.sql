SELECT sensor, day, shown FROM ice_check WHERE place = ?1 ORDER BY sensor, day
