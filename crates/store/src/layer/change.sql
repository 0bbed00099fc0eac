UPDATE layer SET seen = ?2, roots = ?3, branched = ?4, apart = ?5, child = ?6, lean = ?7, note = ?8 WHERE id = ?1
