DELETE FROM away WHERE uid = ?1 AND start = ?2
