DELETE FROM liking WHERE liked = ?1 OR over = ?1
