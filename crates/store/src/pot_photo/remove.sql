DELETE FROM pot_photo WHERE key = ?1
