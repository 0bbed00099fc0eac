SELECT name FROM token WHERE hash = ?1
