//! Many cases together: what was found, what came back, what was skipped, and how right the standing was.
//!
//! A case is boiled down to a row of some hundred bytes, whatever its length, and everything else is counted from rows. So
//! the files are read once, in parallel and one after another, and memory grows by the row and not by the file. Rows can
//! be kept in an index: a second run reads only what changed since. What a row holds comes from the case's lines alone;
//! what the knowledge says of it is looked up when the figures are made, so new knowledge needs no new index, but where other
//! tests of it tell what was tried in vain.
//!
//! Every figure that is a share is kept as two whole numbers, and every sum is one of whole numbers (seconds, millionths),
//! so that another engine that counts the same lines comes to the same digits: `tests/outside/review.py` does.

mod calibration;
mod cases;
mod csv;
mod facts;
mod figures;
mod filter;
mod groups;
mod index;
mod json;
mod learned;
mod names;
mod page;
mod read;
mod returns;
mod row;
mod skipped;
mod table;
mod tables;
mod text;

pub use csv::csv;
pub use facts::{Facts, SAME_SITTING};
pub use figures::{Review, Scope};
pub use filter::Filter;
pub use index::Index;
pub use json::json;
pub use page::page;
pub use read::{Broken, Gathered, Told, read};
pub use table::{Cell, Column, Table};
pub use text::{ALL, text};
