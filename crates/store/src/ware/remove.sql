DELETE FROM ware WHERE pot = ?1
