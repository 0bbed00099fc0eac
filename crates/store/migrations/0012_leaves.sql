-- Looks also tell of leaves in autumn, by the codes 91 (full), 92 (colouring), 95 (falling) and 97 (bare): only codes that are
-- known may stand, so that no program takes one for a bud stage.
CREATE TABLE look_now (
    id       INTEGER PRIMARY KEY,
    tree     TEXT NOT NULL REFERENCES tree (key),
    day      TEXT NOT NULL,
    stage    INTEGER NOT NULL CHECK (stage IN (0, 1, 3, 7, 9, 10, 11, 15, 19, 91, 92, 95, 97)),
    sureness TEXT NOT NULL,
    note     TEXT NOT NULL,
    UNIQUE (tree, day, stage, sureness, note)
) STRICT;
INSERT INTO look_now (id, tree, day, stage, sureness, note) SELECT id, tree, day, stage, sureness, note FROM look;
DROP TABLE look;
ALTER TABLE look_now RENAME TO look;
CREATE TRIGGER look_edited AFTER UPDATE ON look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('look', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER look_removed AFTER DELETE ON look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('look', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
