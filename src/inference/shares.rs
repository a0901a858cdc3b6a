//! How open a distribution is, and sampling from one.

use fastrand::Rng;

/// A place sampled by shares that need not add up to 1; the last one where they are empty of weight.
#[must_use]
pub fn pick(rng: &mut Rng, shares: &[f64]) -> usize {
    let mut left = rng.f64() * shares.iter().sum::<f64>();
    for (place, share) in shares.iter().enumerate() {
        left -= share;
        if left < 0.0 {
            return place;
        }
    }
    shares.len().saturating_sub(1)
}

/// Entropy of a distribution in bits.
#[must_use]
pub fn entropy(shares: &[f64]) -> f64 {
    shares
        .iter()
        .filter(|share| **share > 0.0)
        .map(|share| -share * share.log2())
        .sum()
}
