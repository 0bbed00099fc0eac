INSERT INTO row_sum (of, bucket, count, sum) VALUES (?1, ?2, ?3, ?4)
ON CONFLICT (of, bucket) DO UPDATE SET count = excluded.count, sum = excluded.sum
