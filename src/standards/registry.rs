//! The list of calculations, and the one shape they all have.
//!
//! A calculation added here appears at tree nodes and in every front end at once. It is a pure function:
//! inputs in, a [`Report`] with its working out. It reads no file, no clock and no terminal.

use indexmap::IndexMap;
use serde::Serialize;
use thiserror::Error;

use crate::quantity::{Value, ValueKind};

/// One named input of a calculation.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Kebab-case name, as used in `trees/` and on the command line.
    pub name: &'static str,
    /// What it takes.
    pub kind: ValueKind,
    /// For a choice: the ids allowed. Empty otherwise.
    pub choices: &'static [&'static str],
    /// Lowest and highest sensible amount, in the base unit of the kind.
    pub range: Option<(f64, f64)>,
    /// Used, and said to have been assumed, when the input is left out.
    pub default: Option<&'static str>,
    /// The calculation cannot be made without it.
    pub required: bool,
    /// What it means, one sentence.
    pub meaning: &'static str,
}

/// One named output of a calculation.
#[derive(Clone, Copy, Debug)]
pub struct Output {
    /// Kebab-case name, usable as `{name}` in the wording of a defect.
    pub name: &'static str,
    /// What it takes.
    pub kind: ValueKind,
    /// What it means, one sentence.
    pub meaning: &'static str,
}

/// One verdict a calculation can reach. Its id is an outcome id in `trees/tests`.
#[derive(Clone, Copy, Debug)]
pub struct VerdictKind {
    /// Kebab-case id.
    pub id: &'static str,
    /// What it means, one sentence.
    pub meaning: &'static str,
    /// A published limit is broken, so this is a defect.
    pub violates: bool,
}

/// A calculation, as the catalogue shows it.
#[derive(Clone, Copy)]
pub struct Calculation {
    /// Kebab-case name.
    pub name: &'static str,
    /// One line: what it works out.
    pub title: &'static str,
    /// Its inputs in the order a person would give them.
    pub inputs: &'static [Input],
    /// Its outputs.
    pub outputs: &'static [Output],
    /// Its verdicts. The last one, `cannot-tell`, is always possible and need not be listed.
    pub verdicts: &'static [VerdictKind],
    /// Does the work.
    pub run: fn(&Inputs) -> Result<Report, InputError>,
}

/// Inputs given to a calculation, by name.
#[derive(Clone, Debug, Default)]
pub struct Inputs(pub IndexMap<String, Value>);

/// One line of the working: a formula in the usual symbols, the numbers put in, and the result.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Working {
    /// For example `R = (V_rest - V_running) / I`.
    pub formula: String,
    /// For example `(241.0 V - 229.4 V) / 48 A`.
    pub substituted: String,
    /// For example `0.24 ohm`.
    pub result: String,
}

/// The limit a result was held against.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Limit {
    /// For example `at most 40 A`.
    pub text: String,
    /// Where it comes from: standard, edition, section; or "common practice, no source".
    pub source: String,
    /// How far the result is on the right side of the limit, as a share of the limit; negative when broken.
    pub margin: f64,
}

/// What a calculation found, with everything needed to check it by hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// Name of the calculation.
    pub calculation: &'static str,
    /// Outputs by name.
    pub outputs: IndexMap<&'static str, Value>,
    /// Id of the verdict, one of [`Calculation::verdicts`] or `cannot-tell`.
    pub verdict: &'static str,
    /// One plain sentence with the numbers in it.
    pub finding: String,
    /// The working, line by line.
    pub working: Vec<Working>,
    /// The limits it was held against; empty when there are none.
    pub limits: Vec<Limit>,
    /// What was assumed for each input left out.
    pub assumptions: Vec<String>,
    /// Every source used.
    pub sources: Vec<String>,
}

/// Why a calculation could not be made from the inputs given.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum InputError {
    /// An input the calculation needs was not given.
    #[error("`{input}` is missing: {meaning}")]
    Missing {
        /// Name of the input.
        input: &'static str,
        /// What it means.
        meaning: &'static str,
    },
    /// An input is outside what is physically or tabularly possible.
    #[error("`{input}` is {value}, expected {expected}")]
    OutOfRange {
        /// Name of the input.
        input: String,
        /// What was given, as text.
        value: String,
        /// The range and where it comes from.
        expected: String,
    },
    /// An input has the wrong kind.
    #[error("`{input}` is {value}, expected {expected}")]
    WrongKind {
        /// Name of the input.
        input: String,
        /// What was given, as text.
        value: String,
        /// The kind expected.
        expected: String,
    },
    /// Two inputs contradict each other.
    #[error("{what}")]
    Contradiction {
        /// What contradicts what, naming the inputs.
        what: String,
    },
    /// No input of that name.
    #[error("no input `{input}` in `{calculation}`")]
    Unknown {
        /// Name given.
        input: String,
        /// Name of the calculation.
        calculation: &'static str,
    },
}

/// Every calculation, in the order shown.
#[must_use]
pub fn all() -> &'static [Calculation] {
    &[]
}

/// Finds a calculation by name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Calculation> {
    all().iter().find(|calculation| calculation.name == name)
}
