SELECT at, words FROM act WHERE id = ?1
