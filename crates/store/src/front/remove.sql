DELETE FROM front WHERE tree = ?1 AND rank = ?2
