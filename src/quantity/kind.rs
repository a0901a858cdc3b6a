//! The kinds of quantity a case can hold, and one measured or stated amount of a kind.

use serde::{Deserialize, Serialize};

/// What sort of thing a number measures.
///
/// Real and apparent power are kinds of their own although they share a dimension: a technician who types
/// watts where volt-amperes are asked has misread a label, and the program says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
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
    /// Capacitance, base unit farad.
    Capacitance,
    /// Inductance, base unit henry.
    Inductance,
    /// Frequency, base unit hertz.
    Frequency,
    /// Length, base unit metre.
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
    /// Air volume flow, base unit cubic metre per second, typed in cubic feet per minute.
    AirFlow,
    /// Conductor cross-section, base unit square metre.
    Area,
}

/// An amount of one [`Kind`], held in that kind's base unit.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
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
