SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name IN ('act', 'site', 'place', 'tree', 'station_day')
