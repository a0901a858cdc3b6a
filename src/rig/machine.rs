//! Motors as what they are to the circuit: two ports whose windings act on each other through the turning rotor.
//!
//! Both models are the textbook ones of the steady state: symmetrical components for three phases, two revolving fields for the
//! permanent-split-capacitor motor. Neither knows saturation, skin effect in the bars or harmonics of the air gap: locked-rotor
//! figures come out right only because the windings are fitted to the plate ([`super::motor`]).

use super::circuit::Complex;

/// Admittance of a motor on three phases without a neutral, ports first to third and second to third line, from its impedance
/// per phase (wye) to voltages of positive and of negative sequence.
///
/// *Formula* y(k, m) = (Y1 a^(m-k) + Y2 a^(k-m)) / 3, a = 1 at 120 degrees, k and m = 0, 1, 2 for the three lines.
/// *Arguments* both in ohm, not zero.
/// *Returns* siemens.
/// *Limits* one slip: the caller takes both impedances at the slip there is.
/// *Source* Fortescue, Method of Symmetrical Co-ordinates, AIEE 1918.
#[must_use]
pub fn three_phase(positive: Complex, negative: Complex) -> [[Complex; 2]; 2] {
    let turn = |places: i32| Complex::from_polar(1.0, f64::from(places) * 120f64.to_radians());
    let (first, second) = (positive.inv() / 3.0, negative.inv() / 3.0);
    [0, 1].map(|row| [0, 1].map(|column| first * turn(column - row) + second * turn(row - column)))
}
