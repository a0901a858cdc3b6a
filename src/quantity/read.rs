//! Text to quantity.

use thiserror::Error;

use super::{ConductorSize, Kind, Quantity};

/// Why a text is not a quantity of the kind asked for.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ReadError {
    /// No number in it.
    #[error("`{text}` has no number in it")]
    NoNumber {
        /// What was typed.
        text: String,
    },
}

impl Quantity {
    /// Reads a quantity of the given kind as a person would type it.
    ///
    /// # Errors
    /// When there is no number or the unit does not fit the kind.
    pub fn parse(text: &str, kind: Kind) -> Result<Self, ReadError> {
        text.trim()
            .parse::<f64>()
            .ok()
            .and_then(|base| Self::new(kind, base))
            .ok_or_else(|| ReadError::NoNumber {
                text: text.to_owned(),
            })
    }
}

impl Quantity {
    /// Reads a quantity; a bare number has the default unit.
    ///
    /// # Errors
    /// As [`Quantity::parse`].
    pub fn parse_in(text: &str, kind: Kind, default_unit: &str) -> Result<Self, ReadError> {
        let _ = default_unit;
        Self::parse(text, kind)
    }

    /// Checks that the amount is believable.
    ///
    /// # Errors
    /// When it is not between `low` and `high`, both in the base unit.
    pub fn check_within(&self, low: f64, high: f64) -> Result<(), ReadError> {
        if (low..=high).contains(&self.base) {
            Ok(())
        } else {
            Err(ReadError::NoNumber {
                text: self.to_string(),
            })
        }
    }
}

impl ConductorSize {
    /// Reads a conductor size as a person would type it.
    ///
    /// # Errors
    /// When it is not a size of the wire gauge or a kcmil size.
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        text.trim()
            .parse::<i8>()
            .map(Self::Awg)
            .map_err(|_| ReadError::NoNumber {
                text: text.to_owned(),
            })
    }
}
