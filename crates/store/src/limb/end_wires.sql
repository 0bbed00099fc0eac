WITH RECURSIVE above (number) AS (
    SELECT ?2
    UNION
    SELECT limb.number FROM limb JOIN above ON limb.bearer = above.number WHERE limb.tree = ?1
)
UPDATE wire SET off = ?3
WHERE tree = ?1 AND off IS NULL AND limb IN (SELECT number FROM above)
