//! A simulated installation with a hidden fault: what a meter would really read there.
//!
//! Layers, each of which knows only those before it:
//! 1. circuits and their solution: `circuit`, `stamp`, `lu`, `solve`;
//! 2. machines as the circuit sees them (`machine`), and fitted to their plate (`motor`); breakers, fuses, protectors (`breaker`);
//! 3. `installation`: from the utility's transformer to the last coil, and what really runs on a call;
//! 4. `faults`: every cause of the knowledge as changes of its values; `clock`: minutes and hours;
//! 5. `bench` and `readings`: what a perfect meter reads at each reading test; `meter`: what a real one shows; `states`: which states
//!    of the effects fit;
//! 6. `hidden` with `outcomes`: a fault with everything found out about it; `case`, `visit`, `plates`, `simulated`: the rig for a
//!    case; `respondent`: as whoever answers a walk; `course`: how its trouble goes over two days; `closed_loop`: many of them; `agreement`: what the knowledge says against what they do; `predict`: what the leading causes
//!    of a case would have the meter show.
//!
//! The room samples nothing at random but what it is given a seed for, and keeps the invariant that every answer it
//! gives for one hidden fault follows from one state of one installation.
//!
//! A figure of this room that names no source is a judgment, no source.

pub mod agreement;
pub mod bench;
pub mod breaker;
pub mod case;
pub mod circuit;
pub mod clock;
pub mod closed_loop;
pub mod course;
mod day;
mod error;
pub mod faults;
mod hidden;
pub mod installation;
mod load;
mod lu;
pub mod machine;
pub mod meter;
pub mod motor;
mod outcomes;
pub mod plates;
pub mod predict;
pub mod readings;
pub mod respondent;
mod simulated;
mod solution;
pub mod solve;
mod stamp;
pub mod states;
pub mod visit;

pub use circuit::{Circuit, Complex, Element, ElementIndex, Kind, Node};
pub use error::SolveError;
pub use hidden::{Figures, Hidden, Outcomes};
pub use outcomes::{contradicted, proofs};
pub use readings::MODELED;
pub use respondent::Rig;
pub use simulated::{NoRig, Simulated};
pub use solution::Solution;
pub use solve::{Factored, solve};
