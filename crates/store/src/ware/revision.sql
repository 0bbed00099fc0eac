SELECT revision FROM ware WHERE pot = ?1
