//! An installation: from the utility's transformer to the last coil, built from the facts of a case.
//!
//! Start with [`Installation`]: the figures of the plate, what a fault changed of the values, and the leg it is on. `wiring`
//! makes the circuit of it for a [`Situation`], `operate` finds what really runs when something is called.

mod control;
mod loads;
pub mod operate;
pub mod plate;
mod service;
mod typical;
pub mod values;
mod whole;
mod wiring;

pub use operate::{Call, LETS_GO, Operating};
pub use plate::{Assumed, Feed, Given, Plate};
pub use values::Values;
pub use whole::{Installation, RATED_AIR, Situation};
