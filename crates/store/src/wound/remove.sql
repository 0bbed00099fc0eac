DELETE FROM wound WHERE id = ?1
