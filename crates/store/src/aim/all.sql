SELECT tree, high, trunk, words FROM aim ORDER BY tree
