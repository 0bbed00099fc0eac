SELECT at, humidity, dew_point, pressure, wind, radiation, sunshine, rain, rain_six_hours
FROM weather_hour WHERE origin = ?1 ORDER BY at
