//! The words of the data and what they mean.

use serde::{Deserialize, Serialize};

use crate::quantity::{Kind, ValueKind, Word, words};

/// What looking a source up showed. That nobody has looked yet is not written: it is a source without the word.
pub(in crate::knowledge) const LOOKED_UP: &[&str] = &["supports", "mixed", "contradicts", "not-found"];

/// What a reading's unit says it measures. A bare `F` and `C` are temperatures on a scale: nobody reads a
/// capacitor in whole farads. A difference of temperatures is asked in `K`.
pub(in crate::knowledge) const UNITS: &[(&str, Kind)] = &[
    ("V", Kind::Voltage),
    ("mV", Kind::Voltage),
    ("kV", Kind::Voltage),
    ("A", Kind::Current),
    ("mA", Kind::Current),
    ("uA", Kind::Current),
    ("ohm", Kind::Resistance),
    ("mohm", Kind::Resistance),
    ("kohm", Kind::Resistance),
    ("Mohm", Kind::Resistance),
    ("W", Kind::Power),
    ("kW", Kind::Power),
    ("VA", Kind::ApparentPower),
    ("kVA", Kind::ApparentPower),
    ("uF", Kind::Capacitance),
    ("mH", Kind::Inductance),
    ("Hz", Kind::Frequency),
    ("ft", Kind::Length),
    ("in", Kind::Length),
    ("m", Kind::Length),
    ("F", Kind::Temperature),
    ("C", Kind::Temperature),
    ("K", Kind::TemperatureRise),
    ("s", Kind::Time),
    ("min", Kind::Time),
    ("h", Kind::Time),
    ("%", Kind::Ratio),
    ("count", Kind::Count),
    ("hp", Kind::ShaftPower),
    ("cfm", Kind::AirFlow),
];

/// The units alone.
pub(in crate::knowledge) const UNIT_SYMBOLS: &[&str] = &{
    let mut symbols = [""; UNITS.len()];
    let mut at = 0;
    while at < UNITS.len() {
        symbols[at] = UNITS[at].0;
        at += 1;
    }
    symbols
};

/// The kind of quantity of a unit.
pub(in crate::knowledge) fn kind_of_unit(symbol: &str) -> Option<Kind> {
    UNITS
        .iter()
        .find(|(known, _)| *known == symbol)
        .map(|(_, kind)| *kind)
}

words! {
    /// Sorts of test.
    #[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
    pub(in crate::knowledge) enum TestSort {
        Look = "look",
        Reading = "reading",
        Calculation = "calculation",
    }
}

/// Kinds of fact that are no quantity with a unit of its own.
const FACT_KINDS: &[(&str, ValueKind)] = &[
    ("size", ValueKind::Size),
    ("choice", ValueKind::Choice),
    ("loads", ValueKind::Loads),
    ("currents", ValueKind::Quantities(Kind::Current)),
];

/// Every kind of fact, the quantities first.
pub(in crate::knowledge) fn fact_kinds() -> Vec<&'static str> {
    let others = FACT_KINDS.iter().map(|(word, _)| *word);
    Kind::WORDS.iter().copied().chain(others).collect()
}

pub(in crate::knowledge) fn fact_kind(word: &str) -> Option<ValueKind> {
    let other = FACT_KINDS.iter().find(|(known, _)| *known == word);
    other
        .map(|(_, kind)| *kind)
        .or_else(|| Kind::of_word(word).map(ValueKind::Quantity))
}
