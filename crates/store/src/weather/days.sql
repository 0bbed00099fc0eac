SELECT date, low, high, rain FROM station_day ORDER BY date
