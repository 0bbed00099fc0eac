DELETE FROM trace WHERE photo = ?1 AND limb = ?2
