SELECT tree, season, l, a, b, measured FROM tint ORDER BY tree, season
