SELECT max(fetched) FROM forecast_hour
