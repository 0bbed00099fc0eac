DELETE FROM incident WHERE id = ?1
