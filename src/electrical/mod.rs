//! Formulas of electricity: pure functions, no tables, no limits, no text.
//!
//! One file per subject. Every function states symbols, units, range, what it neglects and its source.
