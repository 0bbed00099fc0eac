CREATE TABLE modelled_day (
    date TEXT PRIMARY KEY,
    low  REAL NOT NULL,
    high REAL NOT NULL,
    CHECK (low <= high)
) STRICT, WITHOUT ROWID;
INSERT INTO modelled_day (date, low, high) SELECT date, low, high FROM station_day WHERE modelled;

CREATE TABLE recorded_day (
    date TEXT PRIMARY KEY,
    low  REAL,
    high REAL,
    rain REAL,
    CHECK (low <= high)
) STRICT, WITHOUT ROWID;
INSERT INTO recorded_day (date, low, high, rain) SELECT date, low, high, rain FROM station_day WHERE NOT modelled;
INSERT INTO recorded_day (date, rain) SELECT date, rain FROM station_day WHERE modelled AND rain IS NOT NULL;
DROP TABLE station_day;
ALTER TABLE recorded_day RENAME TO station_day;

CREATE TABLE weather_day (
    date      TEXT PRIMARY KEY,
    mean      REAL,
    humidity  REAL,
    wind      REAL,
    radiation REAL,
    sunshine  REAL
) STRICT, WITHOUT ROWID;

CREATE TABLE weather_hour (
    origin         TEXT NOT NULL CHECK (origin IN ('station', 'reanalysis', 'forecast', 'typical')),
    at             INTEGER NOT NULL,
    humidity       REAL,
    dew_point      REAL,
    pressure       REAL,
    wind           REAL,
    radiation      REAL,
    sunshine       REAL,
    rain           REAL,
    rain_six_hours REAL,
    PRIMARY KEY (origin, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE logged_humidity (
    place    TEXT NOT NULL REFERENCES place (key),
    at       INTEGER NOT NULL,
    humidity REAL NOT NULL,
    PRIMARY KEY (place, at)
) STRICT, WITHOUT ROWID;
