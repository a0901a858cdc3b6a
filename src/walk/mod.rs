//! See the map in the crate's head.
