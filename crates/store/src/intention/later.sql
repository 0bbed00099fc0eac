SELECT min(made) FROM intention WHERE tree = ?1 AND limb = ?2 AND ended IS NULL AND made > ?3
