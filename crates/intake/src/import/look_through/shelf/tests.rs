//! Claims of the sheets of the shelf.
