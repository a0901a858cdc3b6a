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
    /// The symbol of the base unit, the kind with its article, and a text that would be taken for it.
    const fn said(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Voltage => ("V", "a voltage", "236 V"),
            Self::Current => ("A", "a current", "12.5 A"),
            Self::Resistance => ("ohm", "a resistance", "0.25 ohm"),
            Self::Power => ("W", "a power", "9.6 kW"),
            Self::ApparentPower => ("VA", "an apparent power", "40 VA"),
            Self::ReactivePower => ("var", "a reactive power", "1.2 kvar"),
            Self::Capacitance => ("F", "a capacitance", "35 uF"),
            Self::Inductance => ("H", "an inductance", "2 mH"),
            Self::Frequency => ("Hz", "a frequency", "60 Hz"),
            Self::Length => ("m", "a length", "75 ft"),
            Self::Temperature => ("C", "a temperature", "95 F"),
            Self::TemperatureRise => ("K", "a temperature rise", "40 F"),
            Self::Time => ("s", "a time", "3 min"),
            Self::Ratio => ("", "a ratio", "5 %"),
            Self::Count => ("", "a count", "2"),
            Self::ShaftPower => ("W", "a shaft power", "1/2 hp"),
            Self::AirFlow => ("m3/s", "an air flow", "1200 cfm"),
            Self::Area => ("m2", "a cross-section", "10 mm2"),
            Self::JouleIntegral => ("A2s", "a melting energy", "2500 A2s"),
            Self::Angle => ("deg", "an angle", "36.9 deg"),
        }
    }

    /// Returns the symbol of the base unit; empty for a plain ratio and a count.
    #[must_use]
    pub const fn base_symbol(self) -> &'static str {
        self.said().0
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
        self.said().1
    }

    /// Gives a text that would be taken for this kind.
    pub(super) const fn example(self) -> &'static str {
        self.said().2
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

    /// Makes a plain ratio.
    #[must_use]
    pub fn ratio(number: f64) -> Self {
        Self {
            kind: Kind::Ratio,
            base: number,
        }
    }

    /// Makes a count.
    #[must_use]
    pub fn count(number: usize) -> Self {
        Self {
            kind: Kind::Count,
            base: number as f64,
        }
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
