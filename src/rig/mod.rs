//! A simulated installation with a hidden fault: what a meter would really read there.
//!
//! Three layers, each of which knows only those before it:
//! 1. circuits and their solution: [`circuit`], [`lu`], [`solve`], and the same circuit for SPICE in [`netlist`].
//!
//! The room draws nothing at random but what it is given a seed for, and keeps the invariant that every answer it gives for one
//! hidden fault follows from one state of one installation.

pub mod circuit;
mod error;
mod load;
mod lu;
pub mod machine;
pub mod netlist;
mod solution;
pub mod solve;
mod stamp;

pub use circuit::{Circuit, Complex, Element, ElementIndex, Kind, Node};
pub use error::SolveError;
pub use solution::Solution;
pub use solve::{Factored, solve};
