DELETE FROM incident_tree WHERE incident = ?1
