SELECT bucket, count, sum FROM row_sum WHERE of = ?1 ORDER BY bucket
