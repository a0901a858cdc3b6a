//! Formulas of electricity that more than one place needs, or that a line of working cannot write itself: pure
//! functions, no tables, no limits, no text.
//!
//! One file per subject. Every function states symbols, units, range, what it neglects and its source.
//! Arguments and results are `uom` quantities; a plain `f64` is a ratio without a unit.

pub mod capacitor;
pub mod heater;
pub mod unbalance;
pub mod voltage_drop;
pub mod winding;
