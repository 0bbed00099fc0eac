//! The door in: outside text becomes checked values, and every write passes here.
