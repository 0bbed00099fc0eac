WITH RECURSIVE above (number) AS (
    SELECT ?2
    UNION
    SELECT limb.number FROM limb JOIN above ON limb.bearer = above.number WHERE limb.tree = ?1
)
UPDATE wire SET grown_in = 0
WHERE tree = ?1 AND grown_in = 1 AND limb IN (SELECT number FROM above)
