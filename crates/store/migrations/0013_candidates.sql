-- What a tree may be besides its name, as keys of taxa with a space between.
ALTER TABLE tree ADD COLUMN candidates TEXT NOT NULL DEFAULT '';
