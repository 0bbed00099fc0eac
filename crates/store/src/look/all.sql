SELECT id, tree, day, stage, sureness, note FROM look ORDER BY day, id
