//! A reading near a limit: how the meter's error shares it between the outcomes on either side.

use crate::quantity::{Kind, Quantity};

/// Half-width of the error of a field instrument: a share of the reading, and an amount in the base unit.
struct Class {
    share: f64,
    amount: f64,
}

/// Error of the usual instrument of a kind.
///
/// Of the size that makers of field multimeters and clamps state (about 1 % and a few digits for volts and ohms,
/// 2 % and a few digits for clamp amps, 2 % for capacitance); from memory, no single source. What has no meter
/// here (a count, a length paced out) is taken as typed.
fn class(kind: Kind) -> Class {
    match kind {
        Kind::Voltage => Class {
            share: 0.01,
            amount: 0.0,
        },
        Kind::Current => Class {
            share: 0.02,
            amount: 0.0,
        },
        Kind::Resistance => Class {
            share: 0.01,
            amount: 0.1,
        },
        Kind::Capacitance => Class {
            share: 0.02,
            amount: 0.0,
        },
        Kind::Frequency => Class {
            share: 0.001,
            amount: 0.0,
        },
        Kind::Temperature | Kind::TemperatureRise => Class {
            share: 0.0,
            amount: 1.0,
        },
        Kind::Power | Kind::ApparentPower => Class {
            share: 0.03,
            amount: 0.0,
        },
        _ => Class {
            share: 0.0,
            amount: 0.0,
        },
    }
}

/// Standard uncertainty of a reading, in the base unit of its kind.
///
/// The half-width h is taken as uniform, so u = h / sqrt 3 (Guide to the Expression of Uncertainty in
/// Measurement, from memory).
#[must_use]
pub fn standard_uncertainty(reading: Quantity) -> f64 {
    let class = class(reading.kind);
    (class.share * reading.base.abs() + class.amount) / 3.0_f64.sqrt()
}

/// Shares of a reading among the pieces that some limits cut the line into: an amount inside each piece, and the
/// probability that the true amount lies in it.
///
/// `limits` are sorted. P(piece) = Phi((high - reading)/u) - Phi((low - reading)/u), Phi the normal distribution
/// function: the conformance probability of JCGM 106:2012 (formula from memory). With u = 0 the reading's own
/// piece has everything.
#[must_use]
pub fn shares(reading: f64, u: f64, limits: &[f64]) -> Vec<(f64, f64)> {
    if u <= 0.0 || limits.is_empty() {
        return vec![(reading, 1.0)];
    }
    let phi = |limit: f64| {
        // Beyond eight standard uncertainties the tail is below what a double can hold beside 1.
        let z = ((limit - reading) / u).clamp(-8.0, 8.0);
        0.5 * (1.0 + libm::erf(z / std::f64::consts::SQRT_2))
    };
    let mut pieces = Vec::with_capacity(limits.len() + 1);
    let mut below = 0.0;
    for (place, limit) in limits.iter().enumerate() {
        let here = phi(*limit);
        let middle = match place {
            0 => limit - u,
            _ => f64::midpoint(limits[place - 1], *limit),
        };
        pieces.push((middle, here - below));
        below = here;
    }
    pieces.push((limits[limits.len() - 1] + u, 1.0 - below));
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Phi(1) = 0.841345 (standard normal table).
    #[test]
    fn one_standard_uncertainty_from_a_limit() {
        let pieces = shares(100.0, 2.0, &[102.0]);
        assert!((pieces[0].1 - 0.841_345).abs() < 1e-6, "{pieces:?}");
        assert!((pieces.iter().map(|(_, share)| share).sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn far_from_every_limit_nothing_is_shared() {
        let pieces = shares(100.0, 1.0, &[50.0, 150.0]);
        assert!(pieces[1].1 > 1.0 - 1e-12);
    }
}
