//! The one shape all calculations have.
//!
//! A calculation is a pure function: inputs in, a [`Report`] with its working out. It reads no file, no clock and no
//! terminal.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Serialize;
use thiserror::Error;

use crate::quantity::{Kind, Quantity, ReadError, Value, ValueKind};

use super::measure::HIGHEST_VOLTAGE;

/// One named input of a calculation.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Kebab-case name, as used in `trees/` and on the command line.
    pub name: &'static str,
    /// What it takes.
    pub kind: ValueKind,
    /// Unit of a bare number; empty for a choice, a size and loads.
    pub symbol: &'static str,
    /// For a choice: the ids allowed. Empty otherwise.
    pub choices: &'static [&'static str],
    /// Lowest and highest sensible amount, in the base unit of the kind.
    pub range: Option<(f64, f64)>,
    /// Used, and said to have been assumed, when the input is left out.
    pub default: Option<&'static str>,
    /// The calculation cannot be made without it.
    pub required: bool,
    /// It is read from an instrument, so it carries the instrument's error.
    pub measured: bool,
    /// It matters only beside one of these, so it is asked for only then; empty: always.
    pub only_with: &'static [&'static str],
    /// Where a person leaves it out, it is taken to be the same as this input. A tree still gives it itself: there a
    /// reading that is missing is waited for, not made up.
    pub same_as: Option<&'static str>,
    /// Inputs that say the same thing in another way: one of them at most may be given.
    pub instead_of: &'static [&'static str],
    /// What it means, one sentence.
    pub meaning: &'static str,
}

impl Input {
    pub(super) const fn new(name: &'static str, kind: ValueKind, meaning: &'static str) -> Self {
        let symbol = match kind {
            ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => kind.usual_symbol(),
            ValueKind::Size | ValueKind::Choice | ValueKind::Loads => "",
        };
        Self {
            name,
            kind,
            symbol,
            choices: &[],
            range: None,
            default: None,
            required: true,
            measured: false,
            instead_of: &[],
            only_with: &[],
            same_as: None,
            meaning,
        }
    }

    /// One of a few choices.
    #[must_use]
    pub const fn among(mut self, choices: &'static [&'static str]) -> Self {
        self.choices = choices;
        self
    }

    /// May be left out.
    #[must_use]
    pub const fn optional(mut self) -> Self {
        self.required = false;
        self
    }

    /// May be left out and is then assumed.
    #[must_use]
    pub const fn or(mut self, default: &'static str) -> Self {
        self.required = false;
        self.default = Some(default);
        self
    }

    /// May be left out, and nothing is then assumed for it.
    #[must_use]
    pub const fn only_if_given(mut self) -> Self {
        self.required = false;
        self.default = None;
        self
    }

    /// Lies between two amounts in the base unit.
    #[must_use]
    pub const fn between(mut self, low: f64, high: f64) -> Self {
        self.range = Some((low, high));
        self
    }

    /// Lies in this range of sense, or has none.
    #[must_use]
    pub(super) const fn within(mut self, range: Option<(f64, f64)>) -> Self {
        self.range = range;
        self
    }

    /// A bare number is in this unit.
    #[must_use]
    pub const fn in_unit(mut self, symbol: &'static str) -> Self {
        self.symbol = symbol;
        self
    }

    /// Is read from an instrument.
    #[must_use]
    pub const fn read(mut self) -> Self {
        self.measured = true;
        self
    }

    /// Says the same thing as another input, so that only one of them may be given.
    #[must_use]
    pub const fn instead_of(mut self, others: &'static [&'static str]) -> Self {
        self.instead_of = others;
        self
    }

    /// Matters only beside one of these inputs.
    #[must_use]
    pub const fn only_with(mut self, others: &'static [&'static str]) -> Self {
        self.only_with = others;
        self
    }

    /// Is taken to be the same as another input when a person leaves it out.
    #[must_use]
    pub const fn or_same_as(mut self, other: &'static str) -> Self {
        self.same_as = Some(other);
        self
    }

    /// Says whether it has to do with the answer, once these inputs of its calculation are given.
    ///
    /// It has not when what it says was said in another way, or when nothing was given that it goes with.
    #[must_use]
    pub fn matters(&self, calculation: &Calculation, given: &Inputs) -> bool {
        let said = calculation.inputs.iter().any(|other| {
            given.get(other.name).is_some()
                && (other.instead_of.contains(&self.name) || self.instead_of.contains(&other.name))
        });
        let goes_with =
            self.only_with.is_empty() || self.only_with.iter().any(|name| given.get(name).is_some());
        !said && goes_with
    }

    /// Says whether a person has to give it.
    #[must_use]
    pub const fn is_required(&self) -> bool {
        self.required && self.same_as.is_none()
    }

    /// Reads a text typed for this input.
    ///
    /// # Errors
    /// As [`Value::parse`].
    pub fn parse(&self, text: &str) -> Result<Value, ReadError> {
        Value::parse(
            text,
            self.kind,
            (!self.symbol.is_empty()).then_some(self.symbol),
            self.choices,
        )
    }
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

impl Output {
    pub(super) const fn new(name: &'static str, kind: ValueKind, meaning: &'static str) -> Self {
        Self { name, kind, meaning }
    }
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

impl VerdictKind {
    /// A verdict that breaks no limit.
    #[must_use]
    pub const fn plain(id: &'static str, meaning: &'static str) -> Self {
        Self {
            id,
            meaning,
            violates: false,
        }
    }

    /// A verdict that says a published limit is broken.
    #[must_use]
    pub const fn violation(id: &'static str, meaning: &'static str) -> Self {
        Self {
            id,
            meaning,
            violates: true,
        }
    }
}

/// The verdict every calculation may reach.
pub const CANNOT_TELL: &str = "cannot-tell";

/// A calculation, as the catalog shows it.
#[derive(Clone, Copy)]
pub struct Calculation {
    /// Kebab-case name.
    pub name: &'static str,
    /// One line: what it works out.
    pub title: &'static str,
    /// Its inputs in the order a person would give them.
    pub inputs: &'static [Input],
    /// In the order they are shown.
    pub outputs: &'static [Output],
    /// Its verdicts. The last one, `cannot-tell`, is always possible and need not be listed.
    pub verdicts: &'static [VerdictKind],
    /// Ids of the code rules it uses; they decide the edition when none is given.
    pub rules: &'static [&'static str],
    /// Does the work.
    pub run: fn(&Inputs) -> Result<Report, InputError>,
}

impl Calculation {
    /// Finds an input by name.
    #[must_use]
    pub fn input(&self, name: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|input| input.name == name)
    }

    /// Finds an input by name, or says which there are.
    pub(super) fn known_input(&self, name: &str) -> Result<&'static Input, InputError> {
        self.input(name).ok_or_else(|| InputError::Unknown {
            input: name.to_owned(),
            calculation: self.name,
            known: self
                .inputs
                .iter()
                .map(|input| input.name)
                .collect::<Vec<_>>()
                .join(", "),
        })
    }

    /// Whether a report of it says that a published limit is broken.
    #[must_use]
    pub fn is_violated_by(&self, report: &Report) -> bool {
        self.verdicts
            .iter()
            .any(|verdict| verdict.id == report.verdict && verdict.violates)
    }
}

/// Some calculations under one heading.
pub struct Group {
    /// The heading.
    pub title: &'static str,
    /// Names of the calculations, in the order a person would look for them.
    pub names: &'static [&'static str],
}

/// Inputs given to a calculation, by name.
#[derive(Clone, Debug, Default)]
pub struct Inputs(pub IndexMap<String, Value>);

impl Inputs {
    /// Returns an input by name, if it was given.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.0.get(name)
    }

    /// Reads a text typed for an input of a calculation and keeps the value.
    ///
    /// # Errors
    /// When the calculation has no such input, the text cannot be read, or the amount is outside the range.
    pub fn parse(&mut self, calculation: &Calculation, name: &str, text: &str) -> Result<(), InputError> {
        let input = calculation.known_input(name)?;
        let value = input.parse(text).map_err(|why| InputError::Unreadable {
            input: name.to_owned(),
            why,
        })?;
        check_range(input, &value)?;
        self.0.insert(name.to_owned(), value);
        Ok(())
    }
}

/// One line of the working: a formula in the usual symbols, the numbers put in, and the result.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Working {
    /// For example `R = (V_rest - V_running) / I`.
    pub formula: String,
    /// For example `(241.0 V - 229.4 V) / 48 A`.
    pub substituted: String,
    /// For example `0.24 ohm`.
    pub result: String,
}

/// The limit a result was held against.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Limit {
    /// For example `at most 40 A`.
    pub text: String,
    /// Where it comes from: standard, edition, section; or "common practice, no source".
    pub source: String,
    /// How far the result is on the right side of the limit, as a share of the limit; negative when broken.
    pub margin: f64,
}

/// What a calculation found, with everything needed to check it by hand.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
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
    /// Advice that is no requirement: good practice, and what to mind.
    pub notes: Vec<String>,
    /// Every source used.
    pub sources: Vec<String>,
}

/// Why a calculation could not be made from the inputs given.
#[derive(Clone, Debug, Error, PartialEq)]
#[allow(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum InputError {
    /// An input the calculation needs was not given.
    #[error("`{input}` is missing: {meaning}")]
    Missing {
        input: &'static str,
        meaning: &'static str,
    },
    /// An input is outside what is physically or tabularly possible.
    #[error("`{input}` is {value}, expected {expected}")]
    OutOfRange {
        input: String,
        /// What was given, as text.
        value: String,
        /// The range and where it comes from.
        expected: String,
    },
    /// An input has the wrong kind.
    #[error("`{input}` is {value}, expected {expected}")]
    WrongKind {
        input: String,
        /// What was given, as text.
        value: String,
        expected: String,
    },
    /// The text of an input cannot be read.
    #[error("`{input}`: {why}")]
    Unreadable { input: String, why: ReadError },
    /// What was given leads to something that cannot be.
    #[error("these inputs give {what}, which cannot be: {why}; read them again")]
    Impossible {
        /// The result, with its name.
        what: String,
        /// Why it cannot be.
        why: String,
    },
    /// Two inputs contradict each other.
    #[error("{what}")]
    Contradiction {
        /// What contradicts what, naming the inputs.
        what: String,
    },
    /// No input of that name.
    #[error("no input `{input}` in `{calculation}`; it takes {known}")]
    Unknown {
        /// Name given.
        input: String,
        calculation: &'static str,
        /// The names it has.
        known: String,
    },
}

/// Checks that a value lies in the range of an input, the ends included, and is a number at all.
pub(super) fn check_range(input: &Input, value: &Value) -> Result<(), InputError> {
    let all: &[Quantity] = match value {
        Value::Quantity(quantity) => std::slice::from_ref(quantity),
        Value::Quantities(all) => all,
        Value::Loads(loads) if loads.iter().any(|load| !load.amps.is_finite() || load.amps < 0.0) => {
            return Err(InputError::OutOfRange {
                input: input.name.to_owned(),
                value: value.to_string(),
                expected: "currents from 0 A up".to_owned(),
            });
        }
        _ => return Ok(()),
    };
    for quantity in all {
        let (low, high) = input.range.unwrap_or((f64::MIN, f64::MAX));
        // NaN is in no range.
        if !(low..=high).contains(&quantity.base) {
            return Err(InputError::OutOfRange {
                input: input.name.to_owned(),
                value: quantity.in_both_scales(),
                expected: sensible(*quantity, (low, high)),
            });
        }
    }
    Ok(())
}

/// Says what an input takes, and why it ends there where a reader would ask.
fn sensible(quantity: Quantity, (low, high): (f64, f64)) -> String {
    let end = |base| Quantity {
        kind: quantity.kind,
        base,
    };
    let sense = "the range of sense for this input";
    let range = format!("{} to {}", end(low), end(high));
    match quantity.kind {
        Kind::Temperature | Kind::TemperatureRise => {
            let fahrenheit = |base| end(base).in_fahrenheit().unwrap_or_default();
            format!(
                "{range} ({} to {}), {sense}; write `F` behind a figure in Fahrenheit",
                fahrenheit(low),
                fahrenheit(high)
            )
        }
        Kind::Voltage if high == HIGHEST_VOLTAGE && quantity.base > high => format!(
            "{range}: the tables and limits here end there, motors included. What is above 1000 V goes by rules of \
             its own (for motors NEC Article 430 Part XI, from memory) and is for those trained on it"
        ),
        _ => format!("{range}, {sense}"),
    }
}
