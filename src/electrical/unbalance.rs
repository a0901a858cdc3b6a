//! Unbalance of three voltages or currents.

use std::ops::{Add, Div, Sub};

use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

/// Average, largest deviation from it, and their share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unbalance<T> {
    /// Average of the three.
    pub average: T,
    /// Largest difference from the average.
    pub largest_deviation: T,
    /// Deviation over average.
    pub share: f64,
}

/// Returns the unbalance of three readings.
///
/// *Formula* unbalance = max |V - V_avg| / V_avg.
/// *Arguments* three line-to-line voltages, or three line currents, above 0.
/// *Returns* the share unrounded; the average is not rounded first.
/// *Limits* magnitudes only; the true negative-sequence share needs angles too.
/// *Source* NEMA MG 1 14.36.
///
/// *Example* a motor maker's note: 460, 467 and 450 V give 1.96 % (<https://xcela.ca/voltage-imbalance/>).
/// ```
/// # use lineside::electrical::unbalance::unbalance;
/// # use uom::si::{electric_potential::volt, f64::*};
/// let volts = ElectricPotential::new::<volt>;
/// assert!((unbalance([volts(460.0), volts(467.0), volts(450.0)]).share - 0.0196).abs() < 5e-5);
/// ```
#[must_use]
pub fn unbalance<T>(readings: [T; 3]) -> Unbalance<T>
where
    T: Copy + PartialOrd + Add<Output = T> + Sub<Output = T> + Div<f64, Output = T> + Div<T, Output = Ratio>,
{
    let [one, two, three] = readings;
    let average = (one + two + three) / 3.0;
    let away = |reading: T| {
        if reading > average {
            reading - average
        } else {
            average - reading
        }
    };
    let larger = |a: T, b: T| if a > b { a } else { b };
    let largest_deviation = larger(larger(away(one), away(two)), away(three));
    Unbalance {
        average,
        largest_deviation,
        share: (largest_deviation / average).get::<ratio>(),
    }
}

/// Returns the increase of a motor's temperature rise under voltage unbalance.
///
/// *Formula* increase in percent = 2 x (unbalance in percent)^2.
/// *Arguments* `unbalance` as a share, up to about 0.05.
/// *Returns* a share of the normal rise, unrounded.
/// *Limits* a rule of thumb.
/// *Source* Motor test: voltage unbalance -
/// <https://empoweringmotors.com/2017/07/17/alltestpro-motor-test-voltage-unbalance/>.
#[must_use]
pub fn extra_rise(unbalance: f64) -> f64 {
    2.0 * (unbalance * 100.0).powi(2) / 100.0
}
