//! Everything a fact or the input of a calculation can be.

use serde::{Deserialize, Serialize};

use super::{ConductorSize, Kind, Quantity};

/// One load on a circuit, as a technician lists it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Load {
    /// What it is, in the technician's words.
    pub name: String,
    /// Its current in amperes at the circuit's voltage.
    pub amps: f64,
    /// It is expected to run three hours or more.
    #[serde(default)]
    pub continuous: bool,
    /// It is a motor, so the largest one counts at 125 %.
    #[serde(default)]
    pub motor: bool,
}

/// A known value: of a fact, or put into a calculation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    /// A number with a unit.
    Quantity(Quantity),
    /// Several numbers of one kind, such as the circuits a nameplate asks for.
    Quantities(Vec<Quantity>),
    /// A conductor size.
    Size(ConductorSize),
    /// One of a few named choices, by id.
    Choice(String),
    /// The loads on a circuit.
    Loads(Vec<Load>),
}

/// What sort of [`Value`] a fact or an input takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ValueKind {
    /// A number with a unit.
    Quantity(Kind),
    /// Several numbers of one kind.
    Quantities(Kind),
    /// A conductor size.
    Size,
    /// One of a few named choices.
    Choice,
    /// The loads on a circuit.
    Loads,
}

impl Value {
    /// Reads a value as a person would type it.
    ///
    /// # Errors
    /// When the text is no value of this kind.
    pub fn parse(
        text: &str,
        kind: ValueKind,
        default_unit: &str,
        choices: &[&str],
    ) -> Result<Self, super::ReadError> {
        let _ = choices;
        match kind {
            ValueKind::Quantity(kind) => Quantity::parse_in(text, kind, default_unit).map(Self::Quantity),
            _ => Ok(Self::Choice(text.to_owned())),
        }
    }
}

impl std::fmt::Display for Value {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{self:?}")
    }
}
