-- The act that last changed each record: an edit names the act its page was drawn after, and is refused where a later one changed
-- what it edits. Kept by triggers, so that no way of writing can forget it. What is deleted keeps its line: a number used again is
-- not taken for the old one. Inside a transaction the act's own line comes last, so its number is the next.
CREATE TABLE changed (
    record TEXT NOT NULL,
    key    TEXT NOT NULL,
    act    INTEGER NOT NULL,
    PRIMARY KEY (record, key)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER site_added AFTER INSERT ON site BEGIN
    INSERT INTO changed (record, key, act) VALUES ('site', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER site_edited AFTER UPDATE ON site BEGIN
    INSERT INTO changed (record, key, act) VALUES ('site', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER site_removed AFTER DELETE ON site BEGIN
    INSERT INTO changed (record, key, act) VALUES ('site', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER round_added AFTER INSERT ON round BEGIN
    INSERT INTO changed (record, key, act) VALUES ('round', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER round_edited AFTER UPDATE ON round BEGIN
    INSERT INTO changed (record, key, act) VALUES ('round', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER round_removed AFTER DELETE ON round BEGIN
    INSERT INTO changed (record, key, act) VALUES ('round', '', (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limb_added AFTER INSERT ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limb', NEW.tree || '/' || NEW.number, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limb_edited AFTER UPDATE ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limb', NEW.tree || '/' || NEW.number, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limb_removed AFTER DELETE ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limb', OLD.tree || '/' || OLD.number, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limbs_added AFTER INSERT ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limbs', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limbs_edited AFTER UPDATE ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limbs', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER limbs_removed AFTER DELETE ON limb BEGIN
    INSERT INTO changed (record, key, act) VALUES ('limbs', OLD.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stock_added AFTER INSERT ON stock BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stock', NEW.item, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stock_edited AFTER UPDATE ON stock BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stock', NEW.item, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stock_removed AFTER DELETE ON stock BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stock', OLD.item, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER blend_added AFTER INSERT ON mix_part BEGIN
    INSERT INTO changed (record, key, act) VALUES ('blend', NEW.mix, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER blend_edited AFTER UPDATE ON mix_part BEGIN
    INSERT INTO changed (record, key, act) VALUES ('blend', NEW.mix, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER blend_removed AFTER DELETE ON mix_part BEGIN
    INSERT INTO changed (record, key, act) VALUES ('blend', OLD.mix, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER mix_added AFTER INSERT ON mix BEGIN
    INSERT INTO changed (record, key, act) VALUES ('mix', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER mix_edited AFTER UPDATE ON mix BEGIN
    INSERT INTO changed (record, key, act) VALUES ('mix', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER grown_added AFTER INSERT ON grown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('grown', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER grown_edited AFTER UPDATE ON grown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('grown', NEW.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER grown_removed AFTER DELETE ON grown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('grown', OLD.tree, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER tint_added AFTER INSERT ON tint BEGIN
    INSERT INTO changed (record, key, act) VALUES ('tint', NEW.tree || '/' || NEW.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER tint_edited AFTER UPDATE ON tint BEGIN
    INSERT INTO changed (record, key, act) VALUES ('tint', NEW.tree || '/' || NEW.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER tint_removed AFTER DELETE ON tint BEGIN
    INSERT INTO changed (record, key, act) VALUES ('tint', OLD.tree || '/' || OLD.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER meant_added AFTER INSERT ON meant BEGIN
    INSERT INTO changed (record, key, act) VALUES ('meant', NEW.tree || '/' || NEW.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER meant_edited AFTER UPDATE ON meant BEGIN
    INSERT INTO changed (record, key, act) VALUES ('meant', NEW.tree || '/' || NEW.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER meant_removed AFTER DELETE ON meant BEGIN
    INSERT INTO changed (record, key, act) VALUES ('meant', OLD.tree || '/' || OLD.season, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER vigour_added AFTER INSERT ON vigour BEGIN
    INSERT INTO changed (record, key, act) VALUES ('vigour', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER vigour_edited AFTER UPDATE ON vigour BEGIN
    INSERT INTO changed (record, key, act) VALUES ('vigour', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER vigour_removed AFTER DELETE ON vigour BEGIN
    INSERT INTO changed (record, key, act) VALUES ('vigour', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stature_added AFTER INSERT ON stature BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stature', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stature_edited AFTER UPDATE ON stature BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stature', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER stature_removed AFTER DELETE ON stature BEGIN
    INSERT INTO changed (record, key, act) VALUES ('stature', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_look_added AFTER INSERT ON pot_look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_look', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_look_edited AFTER UPDATE ON pot_look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_look', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_look_removed AFTER DELETE ON pot_look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_look', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER crown_added AFTER INSERT ON crown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('crown', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER crown_edited AFTER UPDATE ON crown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('crown', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER crown_removed AFTER DELETE ON crown BEGIN
    INSERT INTO changed (record, key, act) VALUES ('crown', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER potted_added AFTER INSERT ON potted BEGIN
    INSERT INTO changed (record, key, act) VALUES ('potted', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER potted_edited AFTER UPDATE ON potted BEGIN
    INSERT INTO changed (record, key, act) VALUES ('potted', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER potted_removed AFTER DELETE ON potted BEGIN
    INSERT INTO changed (record, key, act) VALUES ('potted', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER move_added AFTER INSERT ON move BEGIN
    INSERT INTO changed (record, key, act) VALUES ('move', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER move_edited AFTER UPDATE ON move BEGIN
    INSERT INTO changed (record, key, act) VALUES ('move', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER move_removed AFTER DELETE ON move BEGIN
    INSERT INTO changed (record, key, act) VALUES ('move', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER repot_added AFTER INSERT ON repot BEGIN
    INSERT INTO changed (record, key, act) VALUES ('repot', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER repot_edited AFTER UPDATE ON repot BEGIN
    INSERT INTO changed (record, key, act) VALUES ('repot', NEW.tree || '/' || NEW.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER repot_removed AFTER DELETE ON repot BEGIN
    INSERT INTO changed (record, key, act) VALUES ('repot', OLD.tree || '/' || OLD.day, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wish_added AFTER INSERT ON intention BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wish', NEW.tree || '/' || NEW.limb, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wish_edited AFTER UPDATE ON intention BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wish', NEW.tree || '/' || NEW.limb, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wish_removed AFTER DELETE ON intention BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wish', OLD.tree || '/' || OLD.limb, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER intention_edited AFTER UPDATE ON intention BEGIN
    INSERT INTO changed (record, key, act) VALUES ('intention', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER intention_removed AFTER DELETE ON intention BEGIN
    INSERT INTO changed (record, key, act) VALUES ('intention', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER cut_edited AFTER UPDATE ON cut BEGIN
    INSERT INTO changed (record, key, act) VALUES ('cut', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER cut_removed AFTER DELETE ON cut BEGIN
    INSERT INTO changed (record, key, act) VALUES ('cut', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wire_edited AFTER UPDATE ON wire BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wire', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wire_removed AFTER DELETE ON wire BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wire', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER layer_edited AFTER UPDATE ON layer BEGIN
    INSERT INTO changed (record, key, act) VALUES ('layer', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER layer_removed AFTER DELETE ON layer BEGIN
    INSERT INTO changed (record, key, act) VALUES ('layer', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wound_edited AFTER UPDATE ON wound BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wound', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER wound_removed AFTER DELETE ON wound BEGIN
    INSERT INTO changed (record, key, act) VALUES ('wound', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER caliper_edited AFTER UPDATE ON caliper BEGIN
    INSERT INTO changed (record, key, act) VALUES ('caliper', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER caliper_removed AFTER DELETE ON caliper BEGIN
    INSERT INTO changed (record, key, act) VALUES ('caliper', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER look_edited AFTER UPDATE ON look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('look', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER look_removed AFTER DELETE ON look BEGIN
    INSERT INTO changed (record, key, act) VALUES ('look', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER work_edited AFTER UPDATE ON work BEGIN
    INSERT INTO changed (record, key, act) VALUES ('work', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER work_removed AFTER DELETE ON work BEGIN
    INSERT INTO changed (record, key, act) VALUES ('work', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER drink_edited AFTER UPDATE ON drink BEGIN
    INSERT INTO changed (record, key, act) VALUES ('drink', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER drink_removed AFTER DELETE ON drink BEGIN
    INSERT INTO changed (record, key, act) VALUES ('drink', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER toll_edited AFTER UPDATE ON toll BEGIN
    INSERT INTO changed (record, key, act) VALUES ('toll', NEW.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER toll_removed AFTER DELETE ON toll BEGIN
    INSERT INTO changed (record, key, act) VALUES ('toll', OLD.id, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER coil_added AFTER INSERT ON coil BEGIN
    INSERT INTO changed (record, key, act) VALUES ('coil', NEW.metal || '/' || CAST(round(NEW.gauge * 100) AS INTEGER), (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER coil_edited AFTER UPDATE ON coil BEGIN
    INSERT INTO changed (record, key, act) VALUES ('coil', NEW.metal || '/' || CAST(round(NEW.gauge * 100) AS INTEGER), (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER coil_removed AFTER DELETE ON coil BEGIN
    INSERT INTO changed (record, key, act) VALUES ('coil', OLD.metal || '/' || CAST(round(OLD.gauge * 100) AS INTEGER), (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER front_added AFTER INSERT ON front BEGIN
    INSERT INTO changed (record, key, act) VALUES ('front', NEW.tree || '/' || NEW.rank, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER front_edited AFTER UPDATE ON front BEGIN
    INSERT INTO changed (record, key, act) VALUES ('front', NEW.tree || '/' || NEW.rank, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER front_removed AFTER DELETE ON front BEGIN
    INSERT INTO changed (record, key, act) VALUES ('front', OLD.tree || '/' || OLD.rank, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER brush_added AFTER INSERT ON brush BEGIN
    INSERT INTO changed (record, key, act) VALUES ('brush', NEW.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER brush_edited AFTER UPDATE ON brush BEGIN
    INSERT INTO changed (record, key, act) VALUES ('brush', NEW.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER brush_removed AFTER DELETE ON brush BEGIN
    INSERT INTO changed (record, key, act) VALUES ('brush', OLD.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER trace_added AFTER INSERT ON trace BEGIN
    INSERT INTO changed (record, key, act) VALUES ('trace', NEW.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER trace_edited AFTER UPDATE ON trace BEGIN
    INSERT INTO changed (record, key, act) VALUES ('trace', NEW.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER trace_removed AFTER DELETE ON trace BEGIN
    INSERT INTO changed (record, key, act) VALUES ('trace', OLD.photo, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER photo_added AFTER INSERT ON photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('photo', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER photo_edited AFTER UPDATE ON photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('photo', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER photo_removed AFTER DELETE ON photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('photo', OLD.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_photo_added AFTER INSERT ON pot_photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_photo', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_photo_edited AFTER UPDATE ON pot_photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_photo', NEW.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER pot_photo_removed AFTER DELETE ON pot_photo BEGIN
    INSERT INTO changed (record, key, act) VALUES ('pot_photo', OLD.key, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER away_added AFTER INSERT ON away BEGIN
    INSERT INTO changed (record, key, act) VALUES ('away', NEW.uid || '/' || NEW.start, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER away_edited AFTER UPDATE ON away BEGIN
    INSERT INTO changed (record, key, act) VALUES ('away', NEW.uid || '/' || NEW.start, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
CREATE TRIGGER away_removed AFTER DELETE ON away BEGIN
    INSERT INTO changed (record, key, act) VALUES ('away', OLD.uid || '/' || OLD.start, (SELECT coalesce(max(id), 0) + 1 FROM act))
    ON CONFLICT (record, key) DO UPDATE SET act = excluded.act;
END;
