UPDATE layer SET seen = ?2, roots = ?3, apart = ?4, child = ?5, lean = ?6, note = ?7 WHERE id = ?1
