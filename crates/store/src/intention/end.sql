UPDATE intention SET ended = ?2, ending = ?3 WHERE id = ?1 AND ended IS NULL
