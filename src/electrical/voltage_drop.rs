//! Voltage lost along a run.

use uom::si::f64::ElectricalResistance;

/// Returns the part of an impedance that takes voltage from a load of some power factor.
///
/// *Formula* Z = R x pf + X x sin(acos(pf)).
/// *Arguments* `resistance` and `reactance` ohm of one conductor, `power_factor` from 0 to 1, lagging.
/// *Returns* ohm, unrounded.
/// *Limits* small angle between the two ends of the run; good to a few percent up to 10 % drop.
/// *Source* NEC Chapter 9 Table 9, note 2.
#[must_use]
pub fn effective_impedance(
    resistance: ElectricalResistance,
    reactance: ElectricalResistance,
    power_factor: f64,
) -> ElectricalResistance {
    resistance * power_factor + reactance * (1.0 - power_factor * power_factor).max(0.0).sqrt()
}
