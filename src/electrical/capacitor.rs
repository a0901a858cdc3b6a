//! Capacitors: reactance.

use uom::si::electrical_resistance::ohm;
use uom::si::f64::{Capacitance, ElectricalResistance, Frequency};
use uom::si::{capacitance::farad, frequency::hertz};

/// Returns the reactance of a capacitance at a frequency.
///
/// *Formula* X = 1 / (2 x pi x f x C).
/// *Arguments* `capacitance` F above 0, `frequency` Hz above 0.
/// *Returns* ohm, unrounded.
/// *Source* definition of capacitance.
#[must_use]
pub fn reactance(capacitance: Capacitance, frequency: Frequency) -> ElectricalResistance {
    // `uom` keeps the radian apart from the plain number, so the product is made on base amounts.
    let per_second = 2.0 * std::f64::consts::PI * frequency.get::<hertz>();
    ElectricalResistance::new::<ohm>(1.0 / (per_second * capacitance.get::<farad>()))
}
