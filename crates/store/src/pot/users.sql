SELECT tree, day FROM potted WHERE pot = ?1
UNION
SELECT tree, day FROM repot WHERE pot = ?1
ORDER BY day DESC, tree
