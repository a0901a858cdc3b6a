//! A simulated installation with a hidden fault: what a meter would really read there.
//!
//! Three layers, each of which knows only those before it:
//! 1. circuits and their solution: [`circuit`], [`lu`], [`solve`], and the same circuit for SPICE in [`netlist`].
//!
//! The room draws nothing at random but what it is given a seed for, and keeps the invariant that every answer it gives for one
//! hidden fault follows from one state of one installation.

pub mod bench;
pub mod breaker;
pub mod case;
pub mod circuit;
pub mod clock;
pub mod closed_loop;
mod day;
mod error;
pub mod faults;
pub mod installation;
mod load;
mod lu;
pub mod machine;
pub mod meter;
mod modeled;
pub mod motor;
pub mod netlist;
pub mod plates;
mod readings;
pub mod respondent;
mod solution;
pub mod solve;
mod stamp;
pub mod states;

pub use circuit::{Circuit, Complex, Element, ElementIndex, Kind, Node};
pub use error::SolveError;
pub use modeled::MODELED;
pub use respondent::Rig;
pub use solution::Solution;
pub use solve::{Factored, solve};
