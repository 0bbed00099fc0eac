SELECT count(*) FROM station_day WHERE modelled AND date <= ?1
