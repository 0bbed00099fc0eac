WITH RECURSIVE above (number) AS (
    SELECT ?2
    UNION
    SELECT limb.number FROM limb JOIN above ON limb.bearer = above.number WHERE limb.tree = ?1
)
UPDATE intention SET ended = ?3, ending = 'its limb came off'
WHERE tree = ?1 AND ended IS NULL AND limb IN (SELECT number FROM above)
