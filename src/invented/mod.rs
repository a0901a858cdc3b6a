//! Invented cases: plausible case files without a single true word in them, for tests, benchmarks, and for a manager who
//! wants to try the review before there are cases of his own.
//!
//! Each goes through the real walk. The true cause is sampled from the frequencies of the complaint on the equipment,
//! the answers from what the knowledge says each test shows when that cause is true (`answers::shares` is the one
//! place). The people skip, err, are unsure, take back, stop and come again; they close with proof, by a guess, or not
//! at all; some troubles come back. Everything hangs on one seed: the same seed, knowledge and program give the same
//! bytes. The header of every file says that it is invented, and so does a note in it.
//!
//! Start with [`unit()`]: all the cases of one unit at one place.

mod again;
mod answers;
mod person;
mod story;
mod words;

pub use again::again;
pub use story::{InventedCase, UnitPlan, files, plan, unit};
