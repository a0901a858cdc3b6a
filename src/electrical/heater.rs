//! Resistance heaters: what they draw and give at the voltage that is there.

use uom::si::f64::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};

/// Whether a heater is fed by two conductors or by three.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feed {
    /// Two conductors.
    SinglePhase,
    /// Three conductors with balanced elements.
    ThreePhase,
}

impl Feed {
    /// Returns line current over P / V: one, or one over the square root of three.
    #[must_use]
    pub fn divisor(self) -> f64 {
        match self {
            Self::SinglePhase => 1.0,
            Self::ThreePhase => 3f64.sqrt(),
        }
    }
}

/// Returns the power of a heater of fixed resistance at another voltage.
///
/// *Formula* P = P_rated x (V / V_rated)^2.
/// *Arguments* `rated_power` W above 0, `rated_voltage` V above 0, `voltage` V.
/// *Returns* W, unrounded.
/// *Limits* resistance the same hot and cold: nickel-chromium changes by about 5 %.
/// *Source* Ohm's law; Applied voltage versus rated voltage -
/// <https://www.tutco.com/resources/engineer-insight/ask-ian-applied-voltage-vs.-rated-voltage/>.
///
/// *Example* that page: 1000 W at 240 V gives 751.1 W on 208 V.
/// ```
/// # use lineside::electrical::heater::power_at;
/// # use uom::si::{electric_potential::volt, f64::*, power::watt};
/// let power = power_at(
///     Power::new::<watt>(1000.0),
///     ElectricPotential::new::<volt>(240.0),
///     ElectricPotential::new::<volt>(208.0),
/// );
/// assert!((power.get::<watt>() - 751.1).abs() < 0.05);
/// ```
#[must_use]
pub fn power_at(rated_power: Power, rated_voltage: ElectricPotential, voltage: ElectricPotential) -> Power {
    let share = voltage / rated_voltage;
    rated_power * share * share
}

/// Returns the line current of a heater of fixed resistance at a voltage.
///
/// *Formula* I = P / V on two conductors, I = P / (sqrt(3) x V) on three, with P the power at that voltage.
/// *Arguments* `rated_power` W above 0, `rated_voltage` V above 0, `voltage` V above 0.
/// *Returns* A, unrounded.
/// *Limits* power factor 1, three-phase elements balanced, resistance the same hot and cold.
/// *Source* Ohm's law.
///
/// *Example* a published heater table: 10 kW at 240 V, three-phase, 24.1 A
/// (<https://manualshive.com/en/manual/carrier/cpheater001a00/2563531?page=10>).
/// ```
/// # use lineside::electrical::heater::{Feed, current_at};
/// # use uom::si::{electric_current::ampere, electric_potential::volt, f64::*, power::kilowatt};
/// let volts = ElectricPotential::new::<volt>(240.0);
/// let amps = current_at(Power::new::<kilowatt>(10.0), volts, volts, Feed::ThreePhase);
/// assert!((amps.get::<ampere>() - 24.1).abs() < 0.05);
/// ```
#[must_use]
pub fn current_at(
    rated_power: Power,
    rated_voltage: ElectricPotential,
    voltage: ElectricPotential,
    feed: Feed,
) -> ElectricCurrent {
    power_at(rated_power, rated_voltage, voltage) / voltage / feed.divisor()
}

/// Returns the resistance of a heater.
///
/// *Formula* R = V^2 / P.
/// *Arguments* `rated_power` W above 0, `rated_voltage` V above 0.
/// *Returns* ohm, unrounded; of all elements together when they are in parallel.
/// *Source* Ohm's law.
#[must_use]
pub fn resistance(rated_power: Power, rated_voltage: ElectricPotential) -> ElectricalResistance {
    rated_voltage * rated_voltage / rated_power
}
