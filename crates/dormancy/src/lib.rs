//! When a tree has had its cold and when its buds will move: chill and forcing, stages, forecast.
