DELETE FROM weather_hour WHERE origin = ?1
