DELETE FROM intention WHERE id = ?1
