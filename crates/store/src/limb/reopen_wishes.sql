WITH RECURSIVE above (number) AS (
    SELECT ?2
    UNION
    SELECT limb.number FROM limb JOIN above ON limb.bearer = above.number WHERE limb.tree = ?1
)
UPDATE intention SET ended = NULL, ending = ''
WHERE tree = ?1 AND ended = ?3 AND ending = 'its limb came off' AND limb IN (SELECT number FROM above)
