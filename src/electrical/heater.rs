//! Resistance heaters: what they draw and give at the voltage that is there.

use uom::si::f64::{ElectricPotential, ElectricalResistance, Power};

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
