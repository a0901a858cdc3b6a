//! The case file: an append-only record of a walk's events, and the way back from it to the walk.
//!
//! JSON Lines. The first line is the [`Header`]; every further line is one [`Record`]. A line is written with one
//! call and synced before the event counts, so that a kill at any byte loses at most an answer that was never
//! confirmed. Nothing is ever edited: a correction is a new event. State is built only by replaying.
//! The clock comes in from outside.
//!
//! Start with [`Journal::create`] and [`Journal::open`].

mod append;
mod error;
mod record;
mod replay;

pub use append::Journal;
pub use error::JournalError;
pub use record::{Header, Record, SCHEMA};
pub use replay::{Case, read};
