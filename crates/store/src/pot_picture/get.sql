SELECT bytes FROM pot_picture WHERE photo = ?1 AND size = ?2
