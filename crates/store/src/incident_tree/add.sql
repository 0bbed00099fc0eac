INSERT INTO incident_tree (incident, rank, tree, cold, later, part, line, reached) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
