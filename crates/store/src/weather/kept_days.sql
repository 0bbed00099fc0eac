SELECT count(mean), count(humidity), count(wind), count(radiation), count(sunshine) FROM weather_day
