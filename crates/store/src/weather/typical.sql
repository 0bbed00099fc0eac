SELECT low, high FROM typical_day ORDER BY day_of_year
