PRAGMA wal_checkpoint(PASSIVE)
