-- Bad days of a place as the grower kept them: what it was, what is said of it, and what it cost each tree that stood there.
CREATE TABLE incident (
    id       INTEGER PRIMARY KEY,
    place    TEXT NOT NULL REFERENCES place (key),
    cause    TEXT NOT NULL CHECK (cause IN ('warm', 'cold', 'frost')),
    said     TEXT NOT NULL CHECK (said IN ('happened', 'logger')),
    sensor   TEXT,
    since    INTEGER NOT NULL,
    until    INTEGER NOT NULL CHECK (until > since),
    hours    INTEGER NOT NULL CHECK (hours > 0),
    lowest   REAL NOT NULL,
    highest  REAL NOT NULL CHECK (highest >= lowest),
    expected REAL,
    day      TEXT NOT NULL,
    CHECK (sensor IS NULL OR said = 'logger'),
    UNIQUE (place, since, until, said)
) STRICT;
CREATE TABLE incident_tree (
    incident INTEGER NOT NULL REFERENCES incident (id),
    rank     INTEGER NOT NULL CHECK (rank > 0),
    tree     TEXT NOT NULL REFERENCES tree (key),
    cold     REAL NOT NULL,
    later    INTEGER,
    part     TEXT CHECK (part IN ('buds', 'flower-buds', 'leaves', 'evergreen', 'new-growth', 'roots', 'cut-roots', 'woken-roots')),
    line     REAL,
    reached  REAL,
    CHECK ((part IS NULL) = (line IS NULL) AND (part IS NULL) = (reached IS NULL)),
    PRIMARY KEY (incident, rank),
    UNIQUE (incident, tree)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER incident_edited AFTER UPDATE ON incident BEGIN
    INSERT INTO changed (record, key, act) VALUES ('incident', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER incident_removed AFTER DELETE ON incident BEGIN
    INSERT INTO changed (record, key, act) VALUES ('incident', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;

-- What a sensor showed in ice water, by which its readings are corrected; the readings stay as they were read.
CREATE TABLE ice_check (
    id     INTEGER PRIMARY KEY,
    place  TEXT NOT NULL REFERENCES place (key),
    sensor TEXT NOT NULL,
    day    TEXT NOT NULL,
    shown  REAL NOT NULL CHECK (shown BETWEEN -5 AND 5),
    UNIQUE (place, sensor, day)
) STRICT;
CREATE TRIGGER ice_check_edited AFTER UPDATE ON ice_check BEGIN
    INSERT INTO changed (record, key, act) VALUES ('ice_check', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER ice_check_removed AFTER DELETE ON ice_check BEGIN
    INSERT INTO changed (record, key, act) VALUES ('ice_check', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;

-- Each logger's file keeps a series of its own by the name of its sensor; what was imported before stands under no name.
CREATE TABLE logger_hour (
    place       TEXT NOT NULL REFERENCES place (key),
    sensor      TEXT NOT NULL,
    at          INTEGER NOT NULL,
    temperature REAL NOT NULL,
    filled      INTEGER NOT NULL,
    PRIMARY KEY (place, sensor, at)
) STRICT, WITHOUT ROWID;
INSERT INTO logger_hour (place, sensor, at, temperature, filled) SELECT place, '', at, temperature, filled FROM logged_hour;
DROP TABLE logged_hour;
ALTER TABLE logger_hour RENAME TO logged_hour;
CREATE TABLE logger_humidity (
    place    TEXT NOT NULL REFERENCES place (key),
    sensor   TEXT NOT NULL,
    at       INTEGER NOT NULL,
    humidity REAL NOT NULL,
    PRIMARY KEY (place, sensor, at)
) STRICT, WITHOUT ROWID;
INSERT INTO logger_humidity (place, sensor, at, humidity) SELECT place, '', at, humidity FROM logged_humidity;
DROP TABLE logged_humidity;
ALTER TABLE logger_humidity RENAME TO logged_humidity;

-- Whether the grower said that a weight is right though it is odd.
ALTER TABLE drink ADD COLUMN sure INTEGER NOT NULL DEFAULT 0 CHECK (sure IN (0, 1));
