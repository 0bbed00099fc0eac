SELECT key FROM pot_photo WHERE pot = ?1
