//! A compressor motor fitted to its plate: what it draws running, starting and locked, and whether it can turn at all.
//!
//! *Limits* The plate tells two currents; the shares of resistance and leakage, the turns ratio and the magnetizing reactance are
//! typical ones (see the constants), so that current against load, voltage and capacity has the right course but not the last
//! ten percent. No saturation, no skin effect, torque pulsation left out, load torque the same at every speed.

use super::circuit::Complex;
use super::machine::Windings;

/// Rotor and stator at standstill, share of rated volts over rated amps, before they are fitted to the locked-rotor current.
/// Judged from published equivalent circuits of hermetic motors of 1 to 5 hp.
const STATOR: Complex = Complex::new(0.040, 0.065);
const ROTOR: Complex = Complex::new(0.045, 0.065);

/// Magnetizing reactance, same base.
const MAGNETIZING: f64 = 2.0;

/// Auxiliary over main turns: common in permanent-split-capacitor motors, 1.1 to 1.6.
const TURNS: f64 = 1.25;

/// Resistance of the auxiliary winding over that of the main, referred: thinner wire.
const THINNER: f64 = 1.6;

/// Share of the rated load current that is drawn on an ordinary day at nominal voltage: the plate's figure is a limit of rating,
/// not a reading. Common practice: 60 to 90 %.
pub const ORDINARY: f64 = 0.78;

/// Share of the ordinary torque that a compressor asks of its motor at standstill with pressures equal: so that a sound one still
/// starts at 187 V on a 208/230 V plate, and hums with half its capacity. A judgment.
const BREAKAWAY: f64 = 0.07;

/// A motor with its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motor {
    /// Referred to the main winding.
    pub windings: Windings,
    /// On three lines rather than with a capacitor.
    pub three_phase: bool,
    /// Torque of an ordinary day, synchronous watts.
    pub torque: f64,
}

/// What a motor does at given voltages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// Slip: 1 where it stands.
    pub slip: f64,
    /// It carries its load; else it stands.
    pub turns: bool,
}

impl Motor {
    /// Fits a motor to its plate.
    ///
    /// *Arguments* `volts` nominal, `rated` and `locked` A above 0, `microfarad` of the run capacitor (unused with three phases).
    #[must_use]
    pub fn fitted(volts: f64, rated: f64, locked: f64, microfarad: f64, three_phase: bool) -> Self {
        let base = if three_phase {
            volts / 3f64.sqrt() / rated
        } else {
            volts / rated
        };
        let mut scale = 1.0;
        let mut motor = Self {
            windings: scaled(base, scale),
            three_phase,
            torque: 0.0,
        };
        // Locked-rotor current falls as the scale grows; the capacitor's own part does not scale, hence the rounds.
        for _ in 0..40 {
            let found = motor.line_current(volts, microfarad, 1.0);
            scale *= found / locked;
            motor.windings = scaled(base, scale);
        }
        let slip = bisect(1e-4, 0.25, |slip| {
            motor.line_current(volts, microfarad, slip) - ORDINARY * rated
        });
        motor.torque = motor.torque_at(volts, microfarad, slip);
        motor
    }

    /// Voltages of both ports on a stiff supply, the auxiliary behind its capacitor.
    fn currents(&self, volts: f64, microfarad: f64, slip: f64) -> (Complex, Complex) {
        if self.three_phase {
            let y = self.windings.three_phase(slip);
            let phase = |degrees: f64| Complex::from_polar(volts / 3f64.sqrt(), degrees.to_radians());
            let ports = [phase(0.0) - phase(120.0), phase(-120.0) - phase(120.0)];
            return (
                y[0][0] * ports[0] + y[0][1] * ports[1],
                y[1][0] * ports[0] + y[1][1] * ports[1],
            );
        }
        let y = self.windings.split_phase(slip);
        let supply = Complex::new(volts, 0.0);
        if microfarad <= 1e-3 {
            return (supply * (y[0][0] - y[0][1] * y[1][0] / y[1][1]), Complex::ZERO);
        }
        let reactance = Complex::new(0.0, -1e6 / (2.0 * std::f64::consts::PI * 60.0 * microfarad));
        // Auxiliary port: V_a = V - Z I_a and I_a = y10 V + y11 V_a.
        let auxiliary = supply * (y[1][0] + y[1][1]) / (1.0 + y[1][1] * reactance);
        let port = supply - reactance * auxiliary;
        (y[0][0] * supply + y[0][1] * port, auxiliary)
    }

    fn line_current(&self, volts: f64, microfarad: f64, slip: f64) -> f64 {
        let (first, second) = self.currents(volts, microfarad, slip);
        if self.three_phase {
            first.norm()
        } else {
            (first + second).norm()
        }
    }

    fn torque_at(&self, volts: f64, microfarad: f64, slip: f64) -> f64 {
        let (first, second) = self.currents(volts, microfarad, slip);
        self.torque_of(slip, first, second)
    }

    /// Torque from the currents of both ports.
    #[must_use]
    pub fn torque_of(&self, slip: f64, first: Complex, second: Complex) -> f64 {
        if self.three_phase {
            self.windings.three_phase_torque(slip, first, second)
        } else {
            self.windings.split_phase_torque(slip, first, second)
        }
    }

    /// Admittance at a slip.
    #[must_use]
    pub fn siemens(&self, slip: f64) -> [[Complex; 2]; 2] {
        if self.three_phase {
            self.windings.three_phase(slip)
        } else {
            self.windings.split_phase(slip)
        }
    }

    /// Where a motor settles, given the torque it can give at each slip: `torque(slip)` at the voltages it really has there.
    ///
    /// It starts where it gives `stiff` times the breakaway torque at standstill, and runs where it carries `load` times its
    /// ordinary torque.
    #[must_use]
    pub fn settles(&self, load: f64, stiff: f64, torque: &mut dyn FnMut(f64) -> f64) -> Running {
        let stands = Running {
            slip: 1.0,
            turns: false,
        };
        if torque(1.0).abs() < stiff * BREAKAWAY * self.torque {
            return stands;
        }
        let wanted = load * self.torque;
        // From synchronous speed downward the torque rises to its pull-out value: the first crossing is the running point.
        let mut above = 1e-4;
        for step in 1..=28 {
            let slip = 0.004 * 1.17f64.powi(step);
            if torque(slip) >= wanted {
                let slip = bisect(above, slip, |slip| torque(slip) - wanted);
                return Running { slip, turns: true };
            }
            above = slip;
        }
        stands
    }
}

/// Windings for a base impedance, leakage and resistance scaled.
fn scaled(base: f64, scale: f64) -> Windings {
    let stator = STATOR * base * scale;
    Windings {
        stator,
        auxiliary: Complex::new(THINNER * stator.re, stator.im) * TURNS * TURNS,
        turns: TURNS,
        magnetizing: MAGNETIZING * base,
        rotor: ROTOR * base * scale,
    }
}

/// Where a rising function crosses zero.
fn bisect(mut low: f64, mut high: f64, mut rises: impl FnMut(f64) -> f64) -> f64 {
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if rises(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fitted_motor_meets_its_plate() {
        for (volts, rated, locked, microfarad, three) in [
            (240.0, 13.5, 72.0, 35.0, false),
            (240.0, 21.0, 105.0, 45.0, false),
            (120.0, 9.0, 48.0, 40.0, false),
            (208.0, 16.0, 110.0, 0.0, true),
            (480.0, 9.0, 62.0, 0.0, true),
        ] {
            let motor = Motor::fitted(volts, rated, locked, microfarad, three);
            assert!((motor.line_current(volts, microfarad, 1.0) / locked - 1.0).abs() < 0.01);
            let run = motor.settles(1.0, 1.0, &mut |slip| motor.torque_at(volts, microfarad, slip));
            let current = motor.line_current(volts, microfarad, run.slip);
            assert!(run.turns && run.slip < 0.1, "{run:?}");
            assert!((current / (ORDINARY * rated) - 1.0).abs() < 0.01, "{current}");
        }
    }

    /// Without its capacitor a split-phase motor makes no torque at standstill, and hums.
    #[test]
    fn without_a_capacitor_it_does_not_start() {
        let motor = Motor::fitted(240.0, 13.5, 72.0, 35.0, false);
        let run = motor.settles(1.0, 1.0, &mut |slip| motor.torque_at(240.0, 0.0, slip));
        assert!(!run.turns);
    }
}
