SELECT key, name, taxon, name_confidence, since, note, revision FROM tree WHERE key = ?1
