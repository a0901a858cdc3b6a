//! Keeps the score: how strongly each cause stands, which test would tell most, when to stop.
//!
//! The model is one primary cause per case plus the remainder "something not listed here". A cause brings states of effects,
//! effects follow from one another, answers show states, and `network` sums the states out; the remainder is as usual. Priors
//! are how common a cause is, times how often it comes under the complaint. This room knows nothing of walks, files or terminals. It keeps these invariants: probabilities sum to 1, the order of
//! answers does not matter, and an answer that says nothing moves nothing.
//!
//! Start with [`Model`] and [`Standing`]. Every figure that is a judgment stands in one table: frequencies in
//! [`prior`], how far an answer shows the truth in `showing`, costs in [`price`], thresholds in [`stop`], words in [`words`].

mod answered;
pub mod bound;
pub mod choice;
pub mod conflict;
pub mod evidence;
pub mod gain;
pub mod learn;
pub mod matrix;
pub mod meter;
mod model;
mod network;
pub mod optimal;
pub mod origin;
pub mod pair;
pub mod price;
pub mod prior;
pub mod repair;
pub mod score;
pub mod sensitivity;
pub mod shares;
mod showing;
pub mod standing;
pub mod stop;
pub mod telling;
pub mod under;
pub mod words;

pub use answered::Answered;
pub use model::Model;
pub use standing::Standing;
