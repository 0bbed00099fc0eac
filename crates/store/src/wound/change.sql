UPDATE wound SET sealed = ?2, closed = ?3, note = ?4 WHERE id = ?1
