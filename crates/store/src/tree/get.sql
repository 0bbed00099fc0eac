SELECT key, name, taxon, name_confidence, since, note, revision, worth, candidates FROM tree WHERE key = ?1
