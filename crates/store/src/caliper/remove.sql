DELETE FROM caliper WHERE id = ?1
