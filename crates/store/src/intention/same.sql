SELECT EXISTS (
    SELECT 1 FROM intention
    WHERE tree = ?1 AND limb = ?2 AND made = ?10 AND (season, wish, until, nodes, by, which, why) IS (?3, ?4, ?5, ?6, ?7, ?8, ?9)
)
