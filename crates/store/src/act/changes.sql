SELECT
    (SELECT coalesce(max(id), 0) FROM act) + (SELECT taken FROM reading_count) + (SELECT restored FROM file_state)
