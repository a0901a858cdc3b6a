//! How figures are printed and compared.

use std::ops::{Div, Mul};

use crate::quantity::{Kind, Quantity};

/// Prints any amount as everywhere else.
pub(super) fn text(quantity: impl Into<Quantity>) -> String {
    quantity.into().to_string()
}

/// Prints an amount for a line of working, so that it can be keyed in again: see [`Quantity::keyed`].
pub(super) fn keyed(quantity: impl Into<Quantity>) -> String {
    quantity.into().keyed(4)
}

/// Prints a plain number for a line of working, likewise.
pub(super) fn keyed_number(number: f64) -> String {
    let number = Quantity {
        kind: Kind::Count,
        base: number,
    };
    number.keyed(5)
}

/// Prints a reading for a line of working that subtracts it from another: as it was typed, not rounded.
pub(super) fn as_read(quantity: impl Into<Quantity>) -> String {
    quantity.into().keyed(6)
}

/// Says whether `a` is more than `b`, with a hair of tolerance so that equal amounts never count as more.
pub(super) fn exceeds<T>(a: T, b: T) -> bool
where
    T: PartialOrd + Mul<f64, Output = T>,
{
    a > b * (1.0 + 1e-9)
}

/// Divides two amounts of one kind.
pub(super) fn share<T>(part: T, whole: T) -> f64
where
    T: Div<T, Output = uom::si::f64::Ratio>,
{
    (part / whole).get::<uom::si::ratio::ratio>()
}
