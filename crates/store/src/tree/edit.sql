UPDATE tree
SET name = ?2, taxon = ?3, name_confidence = ?4, since = ?5, note = ?6, worth = ?8, candidates = ?9, revision = revision + 1
WHERE key = ?1 AND revision = ?7
