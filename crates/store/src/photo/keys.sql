SELECT key FROM photo WHERE tree = ?1
