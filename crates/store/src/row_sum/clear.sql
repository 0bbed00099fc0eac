DELETE FROM row_sum
