SELECT at, temperature, 0 FROM station_hour ORDER BY at
