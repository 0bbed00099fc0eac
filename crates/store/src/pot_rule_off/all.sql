SELECT rule FROM pot_rule_off ORDER BY rule
