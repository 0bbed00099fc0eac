SELECT date, mean, humidity, wind, radiation, sunshine FROM weather_day ORDER BY date
