DELETE FROM forecast_hour
