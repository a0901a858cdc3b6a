//! The kinds of quantity a case can hold, and one measured or stated amount of a kind.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::words;

words! {
    /// What sort of thing a number measures.
    ///
    /// Real and apparent power are kinds of their own although they share a dimension: a technician who types
    /// watts where volt-amperes are asked has misread a label, and the program says so.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
    pub enum Kind {
        /// Voltage, base unit volt.
        Voltage = "voltage",
        /// Current, base unit ampere.
        Current = "current",
        /// Resistance or impedance, base unit ohm.
        Resistance = "resistance",
        /// Real power, base unit watt.
        Power = "power",
        /// Apparent power, base unit volt-ampere.
        ApparentPower = "apparent-power",
        /// Reactive power, base unit volt-ampere reactive.
        ReactivePower = "reactive-power",
        /// Capacitance, base unit farad.
        Capacitance = "capacitance",
        /// Inductance, base unit henry.
        Inductance = "inductance",
        /// Frequency, base unit hertz.
        Frequency = "frequency",
        /// Length, base unit meter.
        Length = "length",
        /// A temperature on a scale, base unit degree Celsius.
        Temperature = "temperature",
        /// A difference of two temperatures, base unit kelvin.
        TemperatureRise = "temperature-rise",
        /// Duration, base unit second.
        Time = "time",
        /// A plain ratio; `5 %` is 0.05.
        Ratio = "ratio",
        /// How many of something.
        Count = "count",
        /// Mechanical rating of a motor, base unit watt, typed in horsepower.
        ShaftPower = "shaft-power",
        /// Air volume flow, base unit cubic meter per second, typed in cubic feet per minute.
        AirFlow = "air-flow",
        /// Conductor cross-section, base unit square meter.
        Area = "area",
        /// Heat that opens a fuse, as current squared times time, base unit ampere squared second.
        JouleIntegral = "joule-integral",
        /// Angle by which one wave lags another, base unit degree.
        Angle = "angle",
    }
}

impl Kind {
    /// Returns the symbol of the base unit; empty for a plain ratio and a count.
    #[must_use]
    pub const fn base_symbol(self) -> &'static str {
        match self {
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Resistance => "ohm",
            Self::Power | Self::ShaftPower => "W",
            Self::ApparentPower => "VA",
            Self::ReactivePower => "var",
            Self::Capacitance => "F",
            Self::Inductance => "H",
            Self::Frequency => "Hz",
            Self::Length => "m",
            Self::Temperature => "C",
            Self::TemperatureRise => "K",
            Self::Time => "s",
            Self::Ratio | Self::Count => "",
            Self::AirFlow => "m3/s",
            Self::Area => "m2",
            Self::JouleIntegral => "A2s",
            Self::Angle => "deg",
        }
    }

    /// Returns the unit a technician types most often, such as `uF` for a capacitance.
    #[must_use]
    pub const fn usual_symbol(self) -> &'static str {
        match self {
            Self::Power => "kW",
            Self::Capacitance => "uF",
            Self::Inductance => "mH",
            Self::Length => "ft",
            Self::TemperatureRise => "C",
            Self::Ratio => "%",
            Self::ShaftPower => "hp",
            Self::AirFlow => "cfm",
            Self::Area => "mm2",
            _ => self.base_symbol(),
        }
    }

    /// Returns the kind with its article, for a sentence: `a voltage`, `an apparent power`.
    #[must_use]
    pub const fn with_article(self) -> &'static str {
        match self {
            Self::Voltage => "a voltage",
            Self::Current => "a current",
            Self::Resistance => "a resistance",
            Self::Power => "a power",
            Self::ApparentPower => "an apparent power",
            Self::ReactivePower => "a reactive power",
            Self::Capacitance => "a capacitance",
            Self::Inductance => "an inductance",
            Self::Frequency => "a frequency",
            Self::Length => "a length",
            Self::Temperature => "a temperature",
            Self::TemperatureRise => "a temperature rise",
            Self::Time => "a time",
            Self::Ratio => "a ratio",
            Self::Count => "a count",
            Self::ShaftPower => "a shaft power",
            Self::AirFlow => "an air flow",
            Self::Area => "a cross-section",
            Self::JouleIntegral => "a melting energy",
            Self::Angle => "an angle",
        }
    }

    /// Says whether an amount of this kind may be below zero.
    #[must_use]
    pub const fn may_be_negative(self) -> bool {
        matches!(self, Self::Temperature | Self::TemperatureRise | Self::Ratio)
    }
}

/// An amount of one [`Kind`], held in that kind's base unit.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
pub struct Quantity {
    /// What is measured.
    pub kind: Kind,
    /// The amount, in the base unit of `kind`; always finite.
    pub base: f64,
}

impl Quantity {
    /// Makes a quantity from an amount in the base unit of its kind.
    ///
    /// Returns nothing when `base` is not a finite number: no reading is infinite or undefined.
    #[must_use]
    pub fn new(kind: Kind, base: f64) -> Option<Self> {
        base.is_finite().then_some(Self { kind, base })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Word;

    #[test]
    fn every_kind_is_found_by_its_name_and_serializes_to_it() {
        for kind in Kind::ALL.iter().copied() {
            assert_eq!(Kind::of_word(kind.word()), Some(kind));
            let json = serde_json::to_string(&kind).unwrap();
            assert_eq!(json, format!("\"{}\"", kind.word()));
        }
        assert_eq!(Kind::of_word("volts"), None);
    }

    #[test]
    fn no_quantity_is_infinite_or_undefined() {
        assert_eq!(Quantity::new(Kind::Voltage, f64::NAN), None);
        assert_eq!(Quantity::new(Kind::Voltage, f64::INFINITY), None);
    }
}
