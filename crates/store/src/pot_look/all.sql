SELECT tree, day, drained, twice_a_day, rocks, roots, crumbled, falling, note FROM pot_look ORDER BY tree, day
