PRAGMA application_id = 1114989683;

CREATE TABLE row_sum (
    of     TEXT NOT NULL,
    bucket INTEGER NOT NULL,
    count  INTEGER NOT NULL,
    sum    INTEGER NOT NULL,
    PRIMARY KEY (of, bucket)
) STRICT, WITHOUT ROWID;

CREATE TABLE file_state (
    only          INTEGER PRIMARY KEY CHECK (only = 1),
    summed_layout INTEGER NOT NULL,
    is_open       INTEGER NOT NULL CHECK (is_open IN (0, 1)),
    restored      INTEGER NOT NULL CHECK (restored >= 0)
) STRICT;
INSERT INTO file_state (only, summed_layout, is_open, restored) VALUES (1, 0, 0, 0);
