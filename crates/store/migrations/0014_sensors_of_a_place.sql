-- Each sensor keeps a series of its own; what was sent before stands under no name.
CREATE TABLE sensor_reading (
    place  TEXT NOT NULL REFERENCES place (key),
    sensor TEXT NOT NULL,
    kind   TEXT NOT NULL CHECK (kind IN ('temperature', 'humidity')),
    at     INTEGER NOT NULL,
    value  REAL NOT NULL,
    PRIMARY KEY (place, sensor, kind, at)
) STRICT, WITHOUT ROWID;
INSERT INTO sensor_reading (place, sensor, kind, at, value) SELECT place, '', kind, at, value FROM air_reading;
DROP TABLE air_reading;
ALTER TABLE sensor_reading RENAME TO air_reading;

CREATE TABLE sensor_hour (
    place  TEXT NOT NULL REFERENCES place (key),
    sensor TEXT NOT NULL,
    at     INTEGER NOT NULL,
    sum    REAL NOT NULL,
    count  INTEGER NOT NULL CHECK (count > 0),
    PRIMARY KEY (place, sensor, at)
) STRICT, WITHOUT ROWID;
INSERT INTO sensor_hour (place, sensor, at, sum, count) SELECT place, '', at, sum, count FROM reading_hour;
DROP TABLE reading_hour;
ALTER TABLE sensor_hour RENAME TO reading_hour;
