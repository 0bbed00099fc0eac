SELECT id, tree, limb, put_on, metal, gauge, strands, thick, bend, seen, off, outcome, grown_in, photo, note FROM wire ORDER BY put_on, id
