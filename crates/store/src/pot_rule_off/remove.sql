DELETE FROM pot_rule_off WHERE rule = ?1
