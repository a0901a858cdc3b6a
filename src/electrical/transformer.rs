//! Control transformers.

use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};

/// Returns the current a transformer can give at its secondary voltage.
///
/// *Formula* I = S / V.
/// *Arguments* `rating` VA, `secondary` V above 0.
/// *Returns* A, unrounded.
/// *Limits* a single-phase transformer; regulation neglected.
/// *Source* definition of apparent power.
///
/// *Example* 40 VA at 24 V give 1.67 A (<https://nationalhvacparts.com/pages/hvac-electrical-module-6>).
/// ```
/// # use lineside::electrical::transformer::rated_current;
/// # use uom::si::{electric_current::ampere, electric_potential::volt, f64::*, power::watt};
/// let amps = rated_current(Power::new::<watt>(40.0), ElectricPotential::new::<volt>(24.0));
/// assert!((amps.get::<ampere>() - 1.67).abs() < 0.005);
/// ```
#[must_use]
pub fn rated_current(rating: Power, secondary: ElectricPotential) -> ElectricCurrent {
    rating / secondary
}
