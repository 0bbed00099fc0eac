SELECT tree, high, trunk, words, needles, shown FROM aim ORDER BY tree
