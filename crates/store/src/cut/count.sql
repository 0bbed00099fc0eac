UPDATE cut SET broke = ?2, buds = ?3 WHERE id = ?1
