SELECT key, name, taxon, name_confidence, since, note, revision, worth FROM tree ORDER BY rowid
