DELETE FROM brush WHERE photo = ?1
