SELECT photo, limb, points FROM trace ORDER BY photo, limb
