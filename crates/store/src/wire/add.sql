INSERT INTO wire (tree, limb, put_on, metal, gauge, strands, thick, bend, seen, off, outcome, grown_in, photo, note)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)
ON CONFLICT DO NOTHING
