SELECT bytes FROM picture WHERE photo = ?1 AND size = ?2
