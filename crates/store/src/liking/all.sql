SELECT tree, liked, over, day FROM liking ORDER BY day, tree, liked, over
