SELECT count(rain) FROM station_day
