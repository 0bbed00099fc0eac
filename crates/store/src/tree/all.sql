SELECT key, name, taxon, name_confidence, since, note, revision, worth, candidates FROM tree ORDER BY rowid
