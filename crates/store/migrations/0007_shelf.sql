CREATE TABLE ware (
    pot            TEXT PRIMARY KEY REFERENCES pot (key),
    training       INTEGER NOT NULL CHECK (training IN (0, 1)),
    count          INTEGER NOT NULL CHECK (count > 0),
    shape          TEXT NOT NULL,
    finish         TEXT NOT NULL,
    fired          TEXT NOT NULL,
    drain_holes    INTEGER CHECK (drain_holes >= 0),
    hole           REAL CHECK (hole > 0),
    tie_holes      INTEGER CHECK (tie_holes >= 0),
    feel           TEXT,
    features       INTEGER NOT NULL CHECK (features >= 0),
    glaze_l        REAL,
    glaze_a        REAL,
    glaze_b        REAL,
    glaze_spread   REAL CHECK (glaze_spread >= 0),
    empty          REAL CHECK (empty > 0),
    maker          TEXT NOT NULL,
    mark           TEXT NOT NULL,
    kiln           TEXT NOT NULL,
    origin         TEXT NOT NULL,
    era            TEXT NOT NULL,
    bought         TEXT,
    paid_coins     INTEGER CHECK (paid_coins >= 0),
    paid_currency  TEXT,
    seller         TEXT NOT NULL,
    condition      TEXT NOT NULL,
    worth_coins    INTEGER CHECK (worth_coins >= 0),
    worth_currency TEXT,
    worth_day      TEXT,
    whereabouts    TEXT NOT NULL,
    spot           TEXT NOT NULL,
    note           TEXT NOT NULL,
    revision       INTEGER NOT NULL CHECK (revision > 0),
    CHECK (training = 1 OR count = 1),
    CHECK ((glaze_l IS NULL) = (glaze_a IS NULL) AND (glaze_l IS NULL) = (glaze_b IS NULL)),
    CHECK (glaze_spread IS NULL OR glaze_l IS NOT NULL),
    CHECK ((paid_coins IS NULL) = (paid_currency IS NULL)),
    CHECK ((worth_coins IS NULL) = (worth_currency IS NULL) AND (worth_coins IS NULL) = (worth_day IS NULL))
) STRICT;

CREATE TABLE pot_photo (
    key  TEXT PRIMARY KEY,
    pot  TEXT NOT NULL REFERENCES pot (key),
    day  TEXT NOT NULL,
    side TEXT NOT NULL,
    wide INTEGER NOT NULL CHECK (wide > 0),
    high INTEGER NOT NULL CHECK (high > 0),
    hash TEXT NOT NULL,
    UNIQUE (pot, hash)
) STRICT;

CREATE TABLE pot_picture (
    photo TEXT NOT NULL REFERENCES pot_photo (key),
    size  TEXT NOT NULL CHECK (size IN ('full', 'small')),
    bytes BLOB NOT NULL,
    PRIMARY KEY (photo, size)
) STRICT;

CREATE TABLE reservation (
    pot    TEXT NOT NULL REFERENCES pot (key),
    tree   TEXT NOT NULL REFERENCES tree (key),
    season INTEGER NOT NULL,
    said   TEXT NOT NULL CHECK (said IN ('promised', 'kept-for', 'second', 'never')),
    why    TEXT NOT NULL,
    made   TEXT NOT NULL,
    PRIMARY KEY (pot, tree, season)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX reservation_held ON reservation (pot, season) WHERE said IN ('promised', 'kept-for');

CREATE TABLE liking (
    tree  TEXT NOT NULL REFERENCES tree (key),
    liked TEXT NOT NULL REFERENCES pot (key),
    over  TEXT NOT NULL REFERENCES pot (key),
    day   TEXT NOT NULL,
    PRIMARY KEY (tree, liked, over, day),
    CHECK (liked <> over)
) STRICT, WITHOUT ROWID;

CREATE TABLE grown (
    tree           TEXT PRIMARY KEY REFERENCES tree (key),
    style          TEXT,
    kind           TEXT,
    feel           TEXT,
    age            TEXT,
    shown          TEXT,
    asked_coins    INTEGER CHECK (asked_coins >= 0),
    asked_currency TEXT,
    CHECK ((asked_coins IS NULL) = (asked_currency IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE stature (
    tree   TEXT NOT NULL REFERENCES tree (key),
    day    TEXT NOT NULL,
    height REAL NOT NULL CHECK (height > 0),
    trunk  REAL NOT NULL CHECK (trunk > 0),
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE tint (
    tree     TEXT NOT NULL REFERENCES tree (key),
    season   TEXT NOT NULL,
    l        REAL NOT NULL,
    a        REAL NOT NULL,
    b        REAL NOT NULL,
    measured INTEGER NOT NULL CHECK (measured IN (0, 1)),
    PRIMARY KEY (tree, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE vigour (
    tree     TEXT NOT NULL REFERENCES tree (key),
    day      TEXT NOT NULL,
    strength TEXT NOT NULL,
    why      TEXT NOT NULL,
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE meant (
    tree   TEXT NOT NULL REFERENCES tree (key),
    season INTEGER NOT NULL,
    repot  INTEGER NOT NULL CHECK (repot IN (0, 1)),
    cut    REAL CHECK (cut BETWEEN 0 AND 1),
    mix    TEXT REFERENCES mix (key),
    show   INTEGER NOT NULL CHECK (show IN (0, 1)),
    why    TEXT NOT NULL,
    PRIMARY KEY (tree, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE pot_look (
    tree        TEXT NOT NULL REFERENCES tree (key),
    day         TEXT NOT NULL,
    drained     REAL CHECK (drained >= 0),
    twice_a_day INTEGER NOT NULL CHECK (twice_a_day IN (0, 1)),
    rocks       INTEGER NOT NULL CHECK (rocks IN (0, 1)),
    roots       INTEGER NOT NULL CHECK (roots IN (0, 1)),
    crumbled    INTEGER NOT NULL CHECK (crumbled IN (0, 1)),
    falling     INTEGER NOT NULL CHECK (falling IN (0, 1)),
    note        TEXT NOT NULL,
    PRIMARY KEY (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE repot (
    tree       TEXT NOT NULL REFERENCES tree (key),
    day        TEXT NOT NULL,
    pot        TEXT NOT NULL REFERENCES pot (key),
    mix        TEXT NOT NULL REFERENCES mix (key),
    cut        REAL NOT NULL CHECK (cut BETWEEN 0 AND 1),
    bare       INTEGER NOT NULL CHECK (bare IN (0, 1)),
    found      TEXT NOT NULL,
    proud      REAL,
    clock      INTEGER CHECK (clock BETWEEN 1 AND 12),
    sideways   REAL,
    forward    REAL,
    pad_length REAL CHECK (pad_length > 0),
    pad_width  REAL CHECK (pad_width > 0),
    pad_depth  REAL CHECK (pad_depth > 0),
    photo      TEXT REFERENCES photo (key),
    took       REAL CHECK (took >= 0),
    note       TEXT NOT NULL,
    PRIMARY KEY (tree, day),
    CHECK ((sideways IS NULL) = (forward IS NULL)),
    CHECK ((pad_length IS NULL) = (pad_width IS NULL) AND (pad_length IS NULL) = (pad_depth IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE front_before (
    tree         TEXT NOT NULL,
    day          TEXT NOT NULL,
    clock        INTEGER CHECK (clock BETWEEN 1 AND 12),
    sideways     REAL,
    forward      REAL,
    why          TEXT,
    set_clock    INTEGER NOT NULL CHECK (set_clock BETWEEN 1 AND 12),
    set_sideways REAL NOT NULL,
    set_forward  REAL NOT NULL,
    set_why      TEXT NOT NULL,
    PRIMARY KEY (tree, day),
    FOREIGN KEY (tree, day) REFERENCES repot (tree, day),
    CHECK ((clock IS NULL) = (sideways IS NULL) AND (clock IS NULL) = (forward IS NULL) AND (clock IS NULL) = (why IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE promise_before (
    tree   TEXT NOT NULL,
    day    TEXT NOT NULL,
    pot    TEXT NOT NULL REFERENCES pot (key),
    season INTEGER NOT NULL,
    said   TEXT NOT NULL,
    why    TEXT NOT NULL,
    made   TEXT NOT NULL,
    PRIMARY KEY (tree, day, pot, season),
    FOREIGN KEY (tree, day) REFERENCES repot (tree, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE toll (
    id     INTEGER PRIMARY KEY,
    tree   TEXT NOT NULL REFERENCES tree (key),
    day    TEXT NOT NULL,
    what   TEXT NOT NULL,
    amount REAL CHECK (amount >= 0),
    note   TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX toll_once ON toll (tree, day, what, coalesce(amount, -1));

CREATE TABLE stock (
    item     TEXT PRIMARY KEY,
    amount   REAL NOT NULL CHECK (amount >= 0),
    pack     REAL CHECK (pack > 0),
    delivery INTEGER CHECK (delivery >= 0),
    day      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE mix_part (
    mix       TEXT NOT NULL REFERENCES mix (key),
    component TEXT NOT NULL,
    parts     REAL NOT NULL CHECK (parts > 0),
    PRIMARY KEY (mix, component)
) STRICT;

CREATE TABLE pot_rule_off (
    rule TEXT PRIMARY KEY
) STRICT, WITHOUT ROWID;
