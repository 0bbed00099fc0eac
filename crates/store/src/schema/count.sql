SELECT count(*) FROM sqlite_schema
