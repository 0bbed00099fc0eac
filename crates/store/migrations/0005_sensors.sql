CREATE TABLE token (
    name      TEXT PRIMARY KEY,
    hash      TEXT NOT NULL UNIQUE,
    made      INTEGER NOT NULL,
    last_sent INTEGER
) STRICT;

CREATE TABLE air_reading (
    place TEXT NOT NULL REFERENCES place (key),
    kind  TEXT NOT NULL CHECK (kind IN ('temperature', 'humidity')),
    at    INTEGER NOT NULL,
    value REAL NOT NULL,
    PRIMARY KEY (place, kind, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE weight_reading (
    tree  TEXT NOT NULL REFERENCES tree (key),
    at    INTEGER NOT NULL,
    grams REAL NOT NULL CHECK (grams > 0),
    PRIMARY KEY (tree, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE reading_hour (
    place TEXT NOT NULL REFERENCES place (key),
    at    INTEGER NOT NULL,
    sum   REAL NOT NULL,
    count INTEGER NOT NULL CHECK (count > 0),
    PRIMARY KEY (place, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE reading_count (
    only  INTEGER PRIMARY KEY CHECK (only = 1),
    taken INTEGER NOT NULL
) STRICT;
INSERT INTO reading_count (only, taken) VALUES (1, 0);

CREATE INDEX act_words ON act (words, at);
