SELECT act FROM changed WHERE record = ?1 AND key = ?2
