//! The list of calculations: one that is added to it appears at tree nodes and in every front end at once.

use super::calculation::Calculation;

/// Returns every calculation, in the order a catalog shows them.
#[must_use]
pub fn all() -> &'static [Calculation] {
    super::checks::ALL
}

/// Finds a calculation by name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Calculation> {
    all().iter().find(|calculation| calculation.name == name)
}
