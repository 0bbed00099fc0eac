-- How long the needles of a tree shall be, and the day on which it is shown; an aim is edited from the version that stands.
ALTER TABLE aim ADD COLUMN needles REAL;
ALTER TABLE aim ADD COLUMN shown TEXT;
CREATE TRIGGER aim_added AFTER INSERT ON aim BEGIN
    INSERT INTO changed (record, key, act) VALUES ('aim', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER aim_edited AFTER UPDATE ON aim BEGIN
    INSERT INTO changed (record, key, act) VALUES ('aim', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER aim_removed AFTER DELETE ON aim BEGIN
    INSERT INTO changed (record, key, act) VALUES ('aim', OLD.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
