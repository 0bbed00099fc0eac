SELECT EXISTS (SELECT 1 FROM intention WHERE tree = ?1 AND limb = ?2 AND wish = ?3 AND made = ?4)
