//! Claims of the forms of the shelf.
