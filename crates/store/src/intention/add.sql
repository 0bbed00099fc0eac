INSERT INTO intention (tree, limb, season, wish, until, nodes, by, which, why, made, ended, ending)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)
