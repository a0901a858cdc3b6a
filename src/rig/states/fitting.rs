//! An effect and the states that fit it.

use crate::rig::bench::Bench;

/// An effect and the states that fit, the one that fits best first.
pub type Fitting = (&'static str, &'static [&'static str]);

pub(super) fn read(bench: &Bench, test: &str) -> Option<f64> {
    bench.reading(test).ok()
}
