DELETE FROM drink WHERE id = ?1
