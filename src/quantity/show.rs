//! Quantity to text: the one place that rounds and chooses a unit.

use std::fmt;

use super::{ConductorSize, Quantity};

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.base)
    }
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(gauge @ 1..) => write!(f, "{gauge} AWG"),
            Self::Awg(oughts) => write!(f, "{}/0 AWG", 1 - oughts),
            Self::Kcmil(area) => write!(f, "{area} kcmil"),
        }
    }
}
