DELETE FROM photo WHERE key = ?1
