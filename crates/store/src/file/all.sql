SELECT name, kind, length(bytes) FROM file ORDER BY rowid
