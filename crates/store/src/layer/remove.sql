DELETE FROM layer WHERE id = ?1
