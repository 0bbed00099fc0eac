SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name
