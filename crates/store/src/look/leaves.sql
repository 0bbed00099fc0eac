SELECT id, tree, day, stage, sureness, note FROM look WHERE stage >= 90 ORDER BY day, id
