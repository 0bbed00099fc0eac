DELETE FROM row_sum WHERE of = ?1
