SELECT is_open FROM file_state
