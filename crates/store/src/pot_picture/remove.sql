DELETE FROM pot_picture WHERE photo = ?1
