UPDATE ware SET revision = revision + 1 WHERE pot = ?1
