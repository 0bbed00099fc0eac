SELECT tree, rank, clock, sideways, forward, why FROM front ORDER BY tree, rank
