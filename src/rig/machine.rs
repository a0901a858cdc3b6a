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

/// The two-axis equivalent circuit, referred to the main winding, ohm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Windings {
    /// Stator resistance and leakage of the main winding (or of one phase).
    pub stator: Complex,
    /// Resistance and leakage of the auxiliary winding; unused with three phases.
    pub auxiliary: Complex,
    /// Effective turns of the auxiliary winding over those of the main.
    pub turns: f64,
    /// Magnetizing reactance.
    pub magnetizing: f64,
    /// Rotor resistance and leakage.
    pub rotor: Complex,
}

fn parallel(first: Complex, second: Complex) -> Complex {
    first * second / (first + second)
}

impl Windings {
    /// Impedance of the forward field at a slip; the backward field is that at 2 minus the slip.
    fn field(&self, slip: f64) -> Complex {
        let rotor = Complex::new(self.rotor.re / slip.max(1e-6), self.rotor.im);
        parallel(Complex::new(0.0, self.magnetizing), rotor)
    }

    /// Admittance of main and auxiliary winding at a slip.
    ///
    /// *Formula* double revolving field: main `Z + Zf + Zb`, auxiliary `Za + a^2 (Zf + Zb)`, mutual `-+j a (Zf - Zb)`, fields at half.
    /// *Source* Fitzgerald, Kingsley, Umans, Electric Machinery, chapter 9 (unsymmetrical two-phase machines), from memory.
    #[must_use]
    pub fn split_phase(&self, slip: f64) -> [[Complex; 2]; 2] {
        let (forward, backward) = (self.field(slip) / 2.0, self.field(2.0 - slip) / 2.0);
        let mutual = Complex::I * self.turns * (forward - backward);
        let main = self.stator + forward + backward;
        let auxiliary = self.auxiliary + self.turns * self.turns * (forward + backward);
        // The inverse of [[main, -mutual], [mutual, auxiliary]].
        let determinant = main * auxiliary + mutual * mutual;
        [
            [auxiliary / determinant, mutual / determinant],
            [-mutual / determinant, main / determinant],
        ]
    }

    /// Torque in synchronous watts from the currents of main and auxiliary winding.
    #[must_use]
    pub fn split_phase_torque(&self, slip: f64, main: Complex, auxiliary: Complex) -> f64 {
        let (forward, backward) = (self.field(slip).re / 2.0, self.field(2.0 - slip).re / 2.0);
        let turned = Complex::I * self.turns * auxiliary;
        forward * (main - turned).norm_sqr() - backward * (main + turned).norm_sqr()
    }

    /// Admittance on three lines at a slip.
    #[must_use]
    pub fn three_phase(&self, slip: f64) -> [[Complex; 2]; 2] {
        three_phase(
            self.stator + self.field(slip),
            self.stator + self.field(2.0 - slip),
        )
    }

    /// Torque in synchronous watts from the line currents of the first two lines (the third follows).
    #[must_use]
    pub fn three_phase_torque(&self, slip: f64, first: Complex, second: Complex) -> f64 {
        let turn = Complex::from_polar(1.0, 120f64.to_radians());
        let third = -first - second;
        let positive = (first + turn * second + turn * turn * third) / 3.0;
        let negative = (first + turn * turn * second + turn * third) / 3.0;
        3.0 * (self.field(slip).re * positive.norm_sqr() - self.field(2.0 - slip).re * negative.norm_sqr())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The single-phase motor of Fitzgerald, Kingsley, Umans, Electric Machinery, example 9.2 (figures from memory): 110 V, stator
    /// 2.02 + j2.79, rotor 4.12 + j2.12, magnetizing 66.8 ohm; at a slip of 0.05 it draws 3.59 A at power factor 0.62.
    #[test]
    fn a_published_performance_example() {
        let windings = Windings {
            stator: Complex::new(2.02, 2.79),
            auxiliary: Complex::new(1e9, 0.0),
            turns: 1.0,
            magnetizing: 66.8,
            rotor: Complex::new(4.12, 2.12),
        };
        let siemens = windings.split_phase(0.05);
        let current = 110.0 * siemens[0][0];
        assert!((current.norm() - 3.59).abs() < 0.02, "{current}");
        assert!(
            (current.arg().cos() - 0.62).abs() < 0.005,
            "{}",
            current.arg().cos()
        );
        // Airgap power 147 W output and 37 W of core, friction and windage at 95 % speed: 184 / 0.95.
        let torque = windings.split_phase_torque(0.05, current, Complex::ZERO);
        assert!((0.95 * torque - 184.0).abs() < 3.0, "{torque}");
    }
}
