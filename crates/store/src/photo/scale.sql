UPDATE photo SET scale = ?2, soil = ?3 WHERE key = ?1 AND (scale, soil) IS NOT (?2, ?3)
