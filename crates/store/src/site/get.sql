SELECT name, latitude, longitude, elevation, zone, units FROM site
