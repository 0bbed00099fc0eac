SELECT tree, season, repot, cut, mix, show, why FROM meant ORDER BY tree, season
