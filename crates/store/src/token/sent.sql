UPDATE token SET last_sent = max(coalesce(last_sent, ?2), ?2) WHERE name = ?1
