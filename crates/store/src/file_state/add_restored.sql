UPDATE file_state SET restored = restored + ?1
