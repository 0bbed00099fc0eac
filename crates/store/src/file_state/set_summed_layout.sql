UPDATE file_state SET summed_layout = ?1
