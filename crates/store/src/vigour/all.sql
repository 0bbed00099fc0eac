SELECT tree, day, strength, why FROM vigour ORDER BY tree, day
