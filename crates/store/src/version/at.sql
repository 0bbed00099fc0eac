SELECT at FROM act WHERE id = ?1
