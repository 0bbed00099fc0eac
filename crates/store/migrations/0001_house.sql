CREATE TABLE act (
    id    INTEGER PRIMARY KEY,
    at    TEXT NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%SZ', 'now')),
    words TEXT NOT NULL
) STRICT;

CREATE TABLE site (
    only      INTEGER PRIMARY KEY CHECK (only = 1),
    name      TEXT NOT NULL,
    latitude  REAL NOT NULL CHECK (latitude BETWEEN -90 AND 90),
    longitude REAL NOT NULL CHECK (longitude BETWEEN -180 AND 180),
    elevation REAL NOT NULL,
    zone      TEXT NOT NULL,
    units     TEXT NOT NULL CHECK (units IN ('metric', 'imperial'))
) STRICT;

CREATE TABLE place (
    key        TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    shelter    TEXT NOT NULL,
    facing     TEXT,
    lamp_flux  REAL,
    lamp_hours REAL,
    capacity   INTEGER,
    CHECK ((lamp_flux IS NULL) = (lamp_hours IS NULL))
) STRICT;

CREATE TABLE tree (
    key             TEXT PRIMARY KEY,
    name            TEXT NOT NULL,
    taxon           TEXT NOT NULL,
    name_confidence TEXT NOT NULL,
    since           TEXT,
    note            TEXT NOT NULL,
    revision        INTEGER NOT NULL DEFAULT 1
) STRICT;

CREATE TABLE move (
    tree  TEXT NOT NULL REFERENCES tree (key),
    day   TEXT NOT NULL,
    place TEXT NOT NULL REFERENCES place (key),
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE look (
    id       INTEGER PRIMARY KEY,
    tree     TEXT NOT NULL REFERENCES tree (key),
    day      TEXT NOT NULL,
    stage    INTEGER NOT NULL,
    sureness TEXT NOT NULL,
    note     TEXT NOT NULL,
    UNIQUE (tree, day, stage, sureness, note)
) STRICT;

CREATE TABLE work (
    id   INTEGER PRIMARY KEY,
    tree TEXT NOT NULL REFERENCES tree (key),
    day  TEXT NOT NULL,
    kind TEXT NOT NULL,
    note TEXT NOT NULL,
    UNIQUE (tree, day, kind, note)
) STRICT;

CREATE TABLE station_day (
    date TEXT PRIMARY KEY,
    low  REAL NOT NULL,
    high REAL NOT NULL,
    rain REAL,
    CHECK (low <= high)
) STRICT, WITHOUT ROWID;

CREATE TABLE station_hour (
    at          INTEGER PRIMARY KEY,
    temperature REAL NOT NULL
) STRICT;

CREATE TABLE logged_hour (
    place       TEXT NOT NULL REFERENCES place (key),
    at          INTEGER NOT NULL,
    temperature REAL NOT NULL,
    filled      INTEGER NOT NULL,
    PRIMARY KEY (place, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE forecast_hour (
    at          INTEGER PRIMARY KEY,
    temperature REAL NOT NULL,
    fetched     INTEGER NOT NULL
) STRICT;

CREATE TABLE file (
    hash    TEXT PRIMARY KEY,
    name    TEXT NOT NULL,
    kind    TEXT NOT NULL,
    bytes   BLOB NOT NULL
) STRICT;
