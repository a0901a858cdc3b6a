//! The instruments: how far off they are, and what their last digit is.
//!
//! One meter is used through a case, so all its readings of a kind are off by the same share, sampled once; only the
//! last digit is its own each time. Shares are the half-widths that makers of field instruments state (as in the
//! inference: 1 % for volts and ohms, 2 % for amps and capacitance, 1 C), sampled evenly within.

use fastrand::Rng;

/// What kind of quantity is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum Scale {
    Volts,
    Amps,
    Ohms,
    Farads,
    Hertz,
    Celsius,
}

/// Half-width of the error, share of the reading.
fn share(scale: Scale) -> f64 {
    match scale {
        Scale::Volts | Scale::Ohms => 0.01,
        Scale::Amps | Scale::Farads => 0.02,
        Scale::Hertz => 0.001,
        Scale::Celsius => 0.0,
    }
}

/// The instruments of one case.
#[derive(Clone, Debug, PartialEq)]
pub struct Meters {
    /// Error of each, from -1 to 1 of its half-width; 0 for a perfect one.
    errors: [f64; 6],
}

impl Meters {
    /// Instruments without error; they still have a last digit.
    pub const PERFECT: Self = Self { errors: [0.0; 6] };

    /// Samples the instruments of a case.
    #[must_use]
    pub fn sample(rng: &mut Rng) -> Self {
        Self {
            errors: [(); 6].map(|()| 2.0 * rng.f64() - 1.0),
        }
    }

    /// What they show of a true value, both in base units. Four digits, and a floor for what a field instrument resolves.
    #[must_use]
    pub fn shows(&self, scale: Scale, value: f64) -> f64 {
        let error = self.errors[scale as usize];
        let off = if scale == Scale::Celsius {
            value + error
        } else {
            value * (1.0 + error * share(scale))
        };
        let step = last_digit(scale, off);
        (off / step).round() * step
    }
}

/// What the last digit counts at a value, in base units.
fn last_digit(scale: Scale, value: f64) -> f64 {
    let least: f64 = match scale {
        // A tenth of a millivolt, a milliampere of a leakage clamp or a hundredth of a microampere, and so on.
        Scale::Volts => 1e-4,
        Scale::Amps => 1e-8,
        Scale::Ohms | Scale::Hertz | Scale::Celsius => 0.1,
        Scale::Farads => 1e-8,
    };
    if value == 0.0 {
        least
    } else {
        least.max(10f64.powf(value.abs().log10().floor() - 3.0))
    }
}

/// How far a reading can be off at most, in base units: the error of the instrument and its last digit.
#[must_use]
pub fn most_off(scale: Scale, value: f64) -> f64 {
    let error = if scale == Scale::Celsius {
        1.0
    } else {
        share(scale) * value.abs()
    };
    error + last_digit(scale, value)
}
