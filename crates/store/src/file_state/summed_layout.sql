SELECT summed_layout FROM file_state
