//! Published limits and the calculations that hold readings against them.
//!
//! Tables stand as TOML under `tables/`, each with edition, section, source and how it was checked. Rules over
//! them are pure functions, listed once in the [`registry`], so that a tree node, a command and a test all run
//! the same code. This room prints nothing; a [`calculation::Report`] carries the working for whoever shows it.

mod amount;
pub mod calculation;
pub mod catalog;
mod checks;
pub mod citation;
mod figure;
mod handle;
pub mod lookup;
mod measure;
mod meter;
pub mod registry;
pub mod rule;
mod sheet;
pub mod table;

pub use rule::Edition;
pub use sheet::CODE_EDITION;
