DELETE FROM ice_check WHERE id = ?1
