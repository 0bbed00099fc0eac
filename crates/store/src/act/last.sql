SELECT coalesce(max(id), 0) FROM act
