DELETE FROM token WHERE name = ?1
