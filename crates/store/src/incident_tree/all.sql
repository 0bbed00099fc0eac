SELECT incident, tree, cold, later, part, line, reached FROM incident_tree ORDER BY incident, rank
