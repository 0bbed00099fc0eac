DELETE FROM picture WHERE photo = ?1
