ALTER TABLE tree ADD COLUMN worth TEXT NOT NULL DEFAULT 'standing';

CREATE TABLE pot (
    key           TEXT PRIMARY KEY,
    name          TEXT NOT NULL,
    outline       TEXT NOT NULL,
    length        REAL NOT NULL,
    width         REAL NOT NULL,
    shape         REAL,
    middle_length REAL,
    middle_width  REAL,
    bottom_length REAL NOT NULL,
    bottom_width  REAL NOT NULL,
    height        REAL NOT NULL,
    feet          REAL NOT NULL,
    floor         REAL NOT NULL,
    thick         REAL NOT NULL,
    lip           REAL NOT NULL,
    gap           REAL NOT NULL,
    measured      REAL,
    wall          TEXT NOT NULL,
    CHECK ((middle_length IS NULL) = (middle_width IS NULL))
) STRICT;

CREATE TABLE mix (
    key        TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    grain_low  REAL NOT NULL,
    grain_high REAL NOT NULL,
    height     REAL,
    volume     REAL,
    dry        REAL,
    flooded    REAL,
    drained    REAL,
    inside     REAL,
    CHECK (grain_low <= grain_high)
) STRICT;

CREATE TABLE potted (
    tree TEXT NOT NULL REFERENCES tree (key),
    day  TEXT NOT NULL,
    pot  TEXT NOT NULL REFERENCES pot (key),
    mix  TEXT NOT NULL REFERENCES mix (key),
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE crown (
    tree   TEXT NOT NULL REFERENCES tree (key),
    day    TEXT NOT NULL,
    length REAL NOT NULL,
    width  REAL NOT NULL,
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE drink (
    id     INTEGER PRIMARY KEY,
    tree   TEXT NOT NULL REFERENCES tree (key),
    at     INTEGER NOT NULL,
    deed   TEXT NOT NULL,
    grams  REAL,
    remark TEXT,
    hand   TEXT NOT NULL,
    UNIQUE (tree, at, deed, hand)
) STRICT;
CREATE INDEX drink_at ON drink (at);

CREATE TABLE away (
    uid    TEXT NOT NULL,
    start  INTEGER NOT NULL,
    finish INTEGER NOT NULL,
    words  TEXT NOT NULL,
    PRIMARY KEY (uid, start),
    CHECK (start < finish)
) STRICT, WITHOUT ROWID;

CREATE TABLE round (
    only    INTEGER PRIMARY KEY CHECK (only = 1),
    morning TEXT NOT NULL,
    evening TEXT NOT NULL
) STRICT;
