UPDATE wire SET seen = ?2, off = ?3, outcome = ?4, grown_in = ?5, photo = ?6, note = ?7 WHERE id = ?1
