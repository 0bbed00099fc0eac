SELECT tree, rule FROM rule_off ORDER BY tree, rule
