SELECT id, tree, limb, season, wish, until, nodes, by, which, why, made, ended, ending FROM intention ORDER BY made, id
