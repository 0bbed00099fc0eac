UPDATE reading_count SET taken = taken + ?1
