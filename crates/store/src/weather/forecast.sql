SELECT at, temperature, 0 FROM forecast_hour ORDER BY at
