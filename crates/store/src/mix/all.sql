SELECT key, name, grain_low, grain_high, height, volume, dry, flooded, drained, inside FROM mix ORDER BY rowid
