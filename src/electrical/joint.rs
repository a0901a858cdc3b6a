//! Resistance seen from outside: of a supply, of a stretch of a circuit, of a joint.

use uom::si::f64::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};

/// Returns the resistance upstream of a point from the voltage there at rest and under load.
///
/// *Formula* R = (V_rest - V_loaded) / I.
/// *Arguments* both voltages in V at the same two terminals, `current` A that was added between the two readings,
/// above 0.
/// *Returns* ohm, unrounded; negative when the voltage rose, which means the supply moved meanwhile.
/// *Limits* supply steady between the readings. With a motor running the drop is that of the part of the
/// impedance in phase with the current; reactance of a branch circuit adds little to it.
/// *Source* Ohm's law.
#[must_use]
pub fn upstream_resistance(
    at_rest: ElectricPotential,
    loaded: ElectricPotential,
    current: ElectricCurrent,
) -> ElectricalResistance {
    (at_rest - loaded) / current
}

/// Returns the heat made in a resistance.
///
/// *Formula* P = I^2 x R.
/// *Arguments* `resistance` ohm, `current` A.
/// *Returns* W, unrounded.
/// *Source* Joule's law.
///
/// *Example* Test your security installation formulas: 10 A with a 4.5 V drop lose 45 W
/// (<https://www.sdmmag.com/articles/95557-test-your-security-installation-formulas-knowledge>).
/// ```
/// # use lineside::electrical::joint::heat;
/// # use uom::si::{electric_current::ampere, electrical_resistance::ohm, f64::*, power::watt};
/// let heat = heat(ElectricalResistance::new::<ohm>(0.45), ElectricCurrent::new::<ampere>(10.0));
/// assert!((heat.get::<watt>() - 45.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn heat(resistance: ElectricalResistance, current: ElectricCurrent) -> Power {
    current * current * resistance
}
