CREATE TABLE typical_day (
    day_of_year INTEGER PRIMARY KEY CHECK (day_of_year BETWEEN 1 AND 366),
    low         REAL NOT NULL,
    high        REAL NOT NULL,
    CHECK (low <= high)
) STRICT;
