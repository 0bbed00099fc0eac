SELECT DISTINCT tree FROM weight_reading ORDER BY tree
