DELETE FROM row_sum WHERE of = ?1 AND bucket = ?2
