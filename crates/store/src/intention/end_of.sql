UPDATE intention SET ended = ?3, ending = ?4 WHERE tree = ?1 AND limb = ?2 AND ended IS NULL AND made <= ?3
