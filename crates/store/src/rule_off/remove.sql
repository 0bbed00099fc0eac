DELETE FROM rule_off WHERE tree = ?1 AND rule = ?2
