//! Run capacitors: capacitance from current and voltage, and reactance.

use uom::si::electrical_resistance::ohm;
use uom::si::f64::{Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency};
use uom::si::{capacitance::farad, electric_current::ampere, electric_potential::volt, frequency::hertz};

/// Returns the capacitance that passes a current at a voltage and frequency.
///
/// *Formula* C = I / (2 x pi x f x V); at 60 Hz, uF = 2653 x A / V.
/// *Arguments* `current` A through the capacitor alone, `voltage` V across it, above 0, `frequency` Hz above 0.
/// *Returns* F, unrounded.
/// *Limits* a sine wave; losses and harmonics neglected.
/// *Source* definition of capacitance; Replace Blower Run Capacitor (2652 formula) -
/// <https://www.myhvacperformance.com/replace-blower-run-capacitor/>.
///
/// *Example* Run capacitor calculator, worked example - <https://fieldpadpro.com/tools/capacitor-calculator/>.
/// ```
/// # use lineside::electrical::capacitor::capacitance;
/// # use uom::si::{capacitance::microfarad, electric_current::ampere, electric_potential::volt};
/// # use uom::si::{f64::*, frequency::hertz};
/// let c = capacitance(
///     ElectricCurrent::new::<ampere>(8.3),
///     ElectricPotential::new::<volt>(240.0),
///     Frequency::new::<hertz>(60.0),
/// );
/// assert!((c.get::<microfarad>() - 91.7).abs() < 0.05);
/// ```
#[must_use]
pub fn capacitance(
    current: ElectricCurrent,
    voltage: ElectricPotential,
    frequency: Frequency,
) -> Capacitance {
    // `uom` keeps the radian apart from the plain number, so the product is made on base amounts.
    let per_second = 2.0 * std::f64::consts::PI * frequency.get::<hertz>();
    Capacitance::new::<farad>(current.get::<ampere>() / (per_second * voltage.get::<volt>()))
}

/// Returns the reactance of a capacitance at a frequency.
///
/// *Formula* X = 1 / (2 x pi x f x C).
/// *Arguments* `capacitance` F above 0, `frequency` Hz above 0.
/// *Returns* ohm, unrounded.
/// *Source* definition of capacitance.
#[must_use]
pub fn reactance(capacitance: Capacitance, frequency: Frequency) -> ElectricalResistance {
    let per_second = 2.0 * std::f64::consts::PI * frequency.get::<hertz>();
    ElectricalResistance::new::<ohm>(1.0 / (per_second * capacitance.get::<farad>()))
}
