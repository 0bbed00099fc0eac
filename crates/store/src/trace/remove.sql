DELETE FROM trace WHERE photo = ?1
