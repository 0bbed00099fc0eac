SELECT tree, day, pot, mix FROM potted
WHERE pot = ?1 AND NOT EXISTS (
    SELECT 1 FROM potted AS later WHERE later.tree = potted.tree AND later.day > potted.day
)
ORDER BY tree
