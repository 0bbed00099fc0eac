SELECT tree, number, bearer, name, clock, tips, since, gone FROM limb ORDER BY tree, number
