WITH RECURSIVE above (number) AS (
    SELECT ?2
    UNION
    SELECT limb.number FROM limb JOIN above ON limb.bearer = above.number WHERE limb.tree = ?1
)
UPDATE limb SET gone = NULL WHERE tree = ?1 AND gone = ?3 AND number IN (SELECT number FROM above)
