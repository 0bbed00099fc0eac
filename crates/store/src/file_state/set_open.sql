UPDATE file_state SET is_open = ?1 WHERE is_open <> ?1
