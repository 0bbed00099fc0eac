INSERT INTO round (only, morning, evening) VALUES (1, ?1, ?2)
ON CONFLICT (only) DO UPDATE SET morning = excluded.morning, evening = excluded.evening
WHERE morning <> excluded.morning OR evening <> excluded.evening
