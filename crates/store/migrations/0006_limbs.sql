CREATE TABLE photo (
    key      TEXT PRIMARY KEY,
    tree     TEXT NOT NULL REFERENCES tree (key),
    day      TEXT NOT NULL,
    day_told INTEGER NOT NULL CHECK (day_told IN (0, 1)),
    subject  TEXT NOT NULL,
    clock    INTEGER NOT NULL CHECK (clock BETWEEN 1 AND 12),
    wide     INTEGER NOT NULL CHECK (wide > 0),
    high     INTEGER NOT NULL CHECK (high > 0),
    scale    TEXT,
    soil     REAL,
    note     TEXT NOT NULL,
    hash     TEXT NOT NULL,
    UNIQUE (tree, hash)
) STRICT;

CREATE TABLE picture (
    photo TEXT NOT NULL REFERENCES photo (key),
    size  TEXT NOT NULL CHECK (size IN ('full', 'small')),
    bytes BLOB NOT NULL,
    PRIMARY KEY (photo, size)
) STRICT;

CREATE TABLE brush (
    photo   TEXT PRIMARY KEY REFERENCES photo (key),
    strokes TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE limb (
    tree   TEXT NOT NULL REFERENCES tree (key),
    number INTEGER NOT NULL CHECK (number >= 0),
    bearer INTEGER,
    name   TEXT NOT NULL,
    clock  INTEGER CHECK (clock BETWEEN 1 AND 12),
    tips   TEXT,
    since  TEXT NOT NULL,
    gone   TEXT,
    PRIMARY KEY (tree, number),
    FOREIGN KEY (tree, bearer) REFERENCES limb (tree, number),
    CHECK ((number = 0) = (bearer IS NULL)),
    CHECK (bearer IS NULL OR bearer <> number)
) STRICT, WITHOUT ROWID;

CREATE TABLE trace (
    photo  TEXT NOT NULL REFERENCES photo (key),
    tree   TEXT NOT NULL,
    limb   INTEGER NOT NULL,
    points TEXT NOT NULL,
    PRIMARY KEY (photo, limb),
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number)
) STRICT, WITHOUT ROWID;

CREATE TABLE caliper (
    id    INTEGER PRIMARY KEY,
    tree  TEXT NOT NULL,
    limb  INTEGER NOT NULL,
    day   TEXT NOT NULL,
    along REAL NOT NULL CHECK (along >= 0),
    thick REAL NOT NULL CHECK (thick > 0),
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number),
    UNIQUE (tree, limb, day, along, thick)
) STRICT;

CREATE TABLE front (
    tree     TEXT NOT NULL REFERENCES tree (key),
    rank     INTEGER NOT NULL CHECK (rank BETWEEN 0 AND 2),
    clock    INTEGER NOT NULL CHECK (clock BETWEEN 1 AND 12),
    sideways REAL NOT NULL,
    forward  REAL NOT NULL,
    why      TEXT NOT NULL,
    PRIMARY KEY (tree, rank)
) STRICT, WITHOUT ROWID;

CREATE TABLE aim (
    tree  TEXT PRIMARY KEY REFERENCES tree (key),
    high  REAL,
    trunk REAL,
    words TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE rule_off (
    tree TEXT NOT NULL REFERENCES tree (key),
    rule TEXT NOT NULL,
    PRIMARY KEY (tree, rule)
) STRICT, WITHOUT ROWID;

CREATE TABLE intention (
    id     INTEGER PRIMARY KEY,
    tree   TEXT NOT NULL,
    limb   INTEGER NOT NULL,
    season INTEGER NOT NULL,
    wish   TEXT NOT NULL,
    until  REAL,
    nodes  INTEGER,
    by     TEXT,
    which  TEXT NOT NULL,
    why    TEXT NOT NULL,
    made   TEXT NOT NULL,
    ended  TEXT,
    ending TEXT NOT NULL,
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number)
) STRICT;
CREATE UNIQUE INDEX intention_open ON intention (tree, limb) WHERE ended IS NULL;

CREATE TABLE cut (
    id      INTEGER PRIMARY KEY,
    tree    TEXT NOT NULL,
    limb    INTEGER NOT NULL,
    day     TEXT NOT NULL,
    kind    TEXT NOT NULL,
    nodes   INTEGER,
    broke   INTEGER,
    buds    INTEGER,
    despite TEXT NOT NULL,
    note    TEXT NOT NULL,
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number),
    CHECK ((broke IS NULL) = (buds IS NULL)),
    CHECK (broke IS NULL OR broke <= buds),
    UNIQUE (tree, limb, day, kind)
) STRICT;

CREATE TABLE wire (
    id       INTEGER PRIMARY KEY,
    tree     TEXT NOT NULL,
    limb     INTEGER NOT NULL,
    put_on   TEXT NOT NULL,
    metal    TEXT NOT NULL,
    gauge    REAL NOT NULL CHECK (gauge > 0),
    strands  INTEGER NOT NULL CHECK (strands BETWEEN 1 AND 4),
    thick    REAL,
    bend     REAL,
    seen     TEXT,
    off      TEXT,
    outcome  TEXT,
    grown_in INTEGER NOT NULL CHECK (grown_in IN (0, 1)),
    photo    TEXT REFERENCES photo (key),
    note     TEXT NOT NULL,
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number),
    UNIQUE (tree, limb, put_on, metal, gauge)
) STRICT;

CREATE TABLE coil (
    metal TEXT NOT NULL,
    gauge REAL NOT NULL CHECK (gauge > 0),
    grams REAL NOT NULL CHECK (grams >= 0),
    PRIMARY KEY (metal, gauge)
) STRICT, WITHOUT ROWID;

CREATE TABLE layer (
    id       INTEGER PRIMARY KEY,
    tree     TEXT NOT NULL,
    limb     INTEGER NOT NULL,
    way      TEXT NOT NULL,
    day      TEXT NOT NULL,
    seen     TEXT,
    roots    TEXT,
    apart    TEXT,
    child    TEXT REFERENCES tree (key),
    lean     REAL,
    note     TEXT NOT NULL,
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number),
    UNIQUE (tree, limb, way, day)
) STRICT;

CREATE TABLE wound (
    id     INTEGER PRIMARY KEY,
    tree   TEXT NOT NULL,
    limb   INTEGER NOT NULL,
    day    TEXT NOT NULL,
    wide   REAL NOT NULL CHECK (wide > 0),
    sealed INTEGER NOT NULL CHECK (sealed IN (0, 1)),
    closed TEXT,
    note   TEXT NOT NULL,
    FOREIGN KEY (tree, limb) REFERENCES limb (tree, number),
    UNIQUE (tree, limb, day, wide)
) STRICT;
