//! The case file: an append-only record of a walk's events, and the way back from it to the walk.
//!
//! JSON Lines. The first line is the [`Header`]; every further line is one [`Record`]; each ends with its [`Link`] to the
//! line before (`chain.rs`). A line is written with one
//! call and synced before the event counts, so that a kill at any byte loses at most an answer that was never
//! confirmed. Nothing is ever edited: a correction is a new event. State is built only by replaying.
//! The clock comes in from outside. A file that is lost while it is open is written anew beside its old place.
//!
//! Start with [`Journal::create`] and [`Journal::open`].

mod anew;
mod append;
mod chain;
mod change;
pub mod check;
mod copy;
mod disk;
mod draft;
mod error;
#[cfg(test)]
mod faults;
pub mod life;
mod lock;
mod record;
mod replay;
mod schema;

pub use anew::Moved;
pub use append::Journal;
pub use chain::Link;
pub use change::Change;
pub use copy::{Found, Mended, anonymous, chained, find_head, mended};
pub use draft::Draft;
pub use error::JournalError;
pub use record::{Header, Record, SCHEMA};
pub use replay::{Case, Sound, bytes, read, read_file, read_sound, sound_file};
pub use schema::schema;

use crate::files::Limit;

/// The largest case file read and written. An answer with all that follows from it takes about 700 bytes, so this is
/// room for some twenty thousand answers; reading and replaying it stays below 100 MB of memory.
pub const LARGEST: Limit = Limit {
    what: "a case file",
    bytes: 16 * 1024 * 1024,
};
