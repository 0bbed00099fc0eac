INSERT INTO act (words)
SELECT ?1 WHERE NOT EXISTS (
    SELECT 1 FROM act WHERE words = ?1 AND at >= strftime('%Y-%m-%dT00:00:00Z', 'now')
)
