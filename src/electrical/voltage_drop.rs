//! Voltage lost along a run.

use uom::si::f64::{ElectricCurrent, ElectricPotential, ElectricalResistance};

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

/// Returns the voltage lost on two conductors.
///
/// *Formula* V = 2 x I x Z.
/// *Arguments* `current` A, `impedance` ohm of one conductor.
/// *Returns* V, unrounded.
/// *Source* Ohm's law, out and back.
///
/// *Example* a published question: 16 A over 50 ft of 1.2 ohm per 1000 ft lose 1.92 V
/// (<http://electricianpracticetests.com/national-electrical-code-questions/voltage-drop-calculations-1-nec-code-questions/>).
/// ```
/// # use lineside::electrical::voltage_drop::single_phase;
/// # use uom::si::{electric_current::ampere, electric_potential::volt, electrical_resistance::ohm, f64::*};
/// let lost = single_phase(ElectricCurrent::new::<ampere>(16.0), ElectricalResistance::new::<ohm>(0.06));
/// assert!((lost.get::<volt>() - 1.92).abs() < 1e-9);
/// ```
#[must_use]
pub fn single_phase(current: ElectricCurrent, impedance: ElectricalResistance) -> ElectricPotential {
    current * impedance * 2.0
}

/// Returns the line-to-line voltage lost on three conductors.
///
/// *Formula* V = sqrt(3) x I x Z.
/// *Arguments* `current` A in each line, `impedance` ohm of one conductor.
/// *Returns* V, unrounded.
/// *Limits* balanced load.
/// *Source* Ohm's law.
#[must_use]
pub fn three_phase(current: ElectricCurrent, impedance: ElectricalResistance) -> ElectricPotential {
    current * impedance * 3f64.sqrt()
}
