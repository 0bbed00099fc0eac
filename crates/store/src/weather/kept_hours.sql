SELECT count(humidity), count(dew_point), count(pressure), count(wind), count(radiation), count(sunshine), count(rain), count(rain_six_hours)
FROM weather_hour WHERE origin = ?1
