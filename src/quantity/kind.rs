//! The kinds of quantity a case can hold, and one measured or stated amount of a kind.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What sort of thing a number measures.
///
/// Real and apparent power are kinds of their own although they share a dimension: a technician who types
/// watts where volt-amperes are asked has misread a label, and the program says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Voltage, base unit volt.
    Voltage,
    /// Current, base unit ampere.
    Current,
    /// Resistance or impedance, base unit ohm.
    Resistance,
    /// Real power, base unit watt.
    Power,
    /// Apparent power, base unit volt-ampere.
    ApparentPower,
    /// Reactive power, base unit volt-ampere reactive.
    ReactivePower,
    /// Capacitance, base unit farad.
    Capacitance,
    /// Inductance, base unit henry.
    Inductance,
    /// Frequency, base unit hertz.
    Frequency,
    /// Length, base unit meter.
    Length,
    /// A temperature on a scale, base unit degree Celsius.
    Temperature,
    /// A difference of two temperatures, base unit kelvin.
    TemperatureRise,
    /// Duration, base unit second.
    Time,
    /// A plain ratio; `5 %` is 0.05.
    Ratio,
    /// How many of something.
    Count,
    /// Mechanical rating of a motor, base unit watt, typed in horsepower.
    ShaftPower,
    /// Air volume flow, base unit cubic meter per second, typed in cubic feet per minute.
    AirFlow,
    /// Conductor cross-section, base unit square meter.
    Area,
    /// Heat that opens a fuse, as current squared times time, base unit ampere squared second.
    JouleIntegral,
    /// Angle by which one wave lags another, base unit degree.
    Angle,
}

impl Kind {
    /// Every kind, in the order above.
    pub const ALL: [Self; 20] = [
        Self::Voltage,
        Self::Current,
        Self::Resistance,
        Self::Power,
        Self::ApparentPower,
        Self::ReactivePower,
        Self::Capacitance,
        Self::Inductance,
        Self::Frequency,
        Self::Length,
        Self::Temperature,
        Self::TemperatureRise,
        Self::Time,
        Self::Ratio,
        Self::Count,
        Self::ShaftPower,
        Self::AirFlow,
        Self::Area,
        Self::JouleIntegral,
        Self::Angle,
    ];

    /// Returns the kebab-case name used in data files, such as `apparent-power`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Resistance => "resistance",
            Self::Power => "power",
            Self::ApparentPower => "apparent-power",
            Self::ReactivePower => "reactive-power",
            Self::Capacitance => "capacitance",
            Self::Inductance => "inductance",
            Self::Frequency => "frequency",
            Self::Length => "length",
            Self::Temperature => "temperature",
            Self::TemperatureRise => "temperature-rise",
            Self::Time => "time",
            Self::Ratio => "ratio",
            Self::Count => "count",
            Self::ShaftPower => "shaft-power",
            Self::AirFlow => "air-flow",
            Self::Area => "area",
            Self::JouleIntegral => "joule-integral",
            Self::Angle => "angle",
        }
    }

    /// Finds a kind by the name [`Kind::name`] gives.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

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

    #[test]
    fn every_kind_is_found_by_its_name_and_serializes_to_it() {
        for kind in Kind::ALL {
            assert_eq!(Kind::named(kind.name()), Some(kind));
            let json = serde_json::to_string(&kind).unwrap();
            assert_eq!(json, format!("\"{}\"", kind.name()));
        }
        assert_eq!(Kind::named("volts"), None);
    }

    #[test]
    fn no_quantity_is_infinite_or_undefined() {
        assert_eq!(Quantity::new(Kind::Voltage, f64::NAN), None);
        assert_eq!(Quantity::new(Kind::Voltage, f64::INFINITY), None);
    }
}
