//! Readings with units: text a technician types becomes a quantity, and a quantity becomes text again.
//!
//! This room knows units and conductor sizes and nothing about rules. Everything above it works with
//! [`Quantity`] (a number of one [`Kind`]) or with the `uom` type behind it, never with a bare number.
//! It keeps one invariant: what is printed can be read back to the same value.
//!
//! Start with [`Quantity::parse`].

mod conductor_size;
mod kind;
mod read;
mod show;
mod value;

pub use conductor_size::ConductorSize;
pub use kind::{Kind, Quantity};
pub use read::ReadError;
pub use value::{Load, Value, ValueKind};
