PRAGMA wal_checkpoint(TRUNCATE)
