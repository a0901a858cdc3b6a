//! Readings with units: text a technician types becomes a quantity, and a quantity becomes text again.
//!
//! This room knows units and conductor sizes and nothing about rules. Everything above it works with
//! [`Quantity`] (a number of one [`Kind`]) or with the `uom` type behind it, never with a bare number.
//! It keeps one invariant: what is printed can be read back. [`Quantity::exact`] and [`Value::exact`] give back
//! the very same value; `Display` rounds to what an instrument shows and reads back to what it shows.
//!
//! Start with [`Quantity::parse`] and [`Value::parse`].

mod choice;
mod conductor_size;
mod kind;
mod number;
mod read;
mod refused;
mod show;
mod told;
mod unit;
mod value;
mod words;

pub use choice::choice_among;
pub use conductor_size::ConductorSize;
pub use kind::{Kind, Quantity};
pub use refused::ReadError;
pub use show::three_figures;
pub use value::{Load, Value, ValueKind};
pub use words::Word;
pub(crate) use words::words;

/// Returns the area of one circular mil in square meters.
#[must_use]
pub const fn circular_mil() -> f64 {
    unit::CIRCULAR_MIL
}

/// Returns one mechanical horsepower in watts.
#[must_use]
pub const fn horsepower() -> f64 {
    unit::HORSEPOWER
}
