//! The two legs of a 120/240 V service and the neutral between them.

use uom::si::f64::{ElectricCurrent, ElectricPotential, ElectricalResistance};

/// Voltages of the two legs and the current through them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legs {
    /// Voltage of the first leg to neutral.
    pub first: ElectricPotential,
    /// Voltage of the second leg to neutral.
    pub second: ElectricPotential,
    /// Current through both when the neutral is open.
    pub current: ElectricCurrent,
}

/// Returns what two loads see when the neutral between them is open.
///
/// *Formula* I = V / (R1 + R2), V1 = I x R1, V2 = I x R2.
/// *Arguments* `line` V between the legs, `first` and `second` ohm of the loads on each leg, above 0.
/// *Returns* voltages that add up to `line`, unrounded.
/// *Limits* resistive loads; a motor's impedance turns the voltages apart.
/// *Source* Kirchhoff's laws.
///
/// *Example* a published problem: 200 V, 20 ohm and 30 ohm give 4 A, 80 V and 120 V
/// (<https://rio2016.5ch.net/test/read.cgi/denki/1289235278/272>).
/// ```
/// # use lineside::electrical::neutral::open_neutral;
/// # use uom::si::{electric_potential::volt, electrical_resistance::ohm, f64::*};
/// let legs = open_neutral(
///     ElectricPotential::new::<volt>(200.0),
///     ElectricalResistance::new::<ohm>(20.0),
///     ElectricalResistance::new::<ohm>(30.0),
/// );
/// assert!((legs.first.get::<volt>() - 80.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn open_neutral(
    line: ElectricPotential,
    first: ElectricalResistance,
    second: ElectricalResistance,
) -> Legs {
    let current = line / (first + second);
    Legs {
        first: current * first,
        second: current * second,
        current,
    }
}

/// Returns how far the neutral has moved from the middle of the two legs.
///
/// *Formula* shift = (V1 - V2) / 2.
/// *Arguments* both leg voltages in V to neutral.
/// *Returns* V, positive when the first leg is higher.
/// *Limits* legs in exact opposition, as from one center-tapped winding.
/// *Source* Kirchhoff's voltage law.
#[must_use]
pub fn shift(first: ElectricPotential, second: ElectricPotential) -> ElectricPotential {
    (first - second) / 2.0
}
