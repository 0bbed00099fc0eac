SELECT id, tree, limb, day, along, thick FROM caliper ORDER BY day, id
