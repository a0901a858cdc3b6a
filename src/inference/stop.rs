//! When enough is known.

use super::Standing;

/// A leader this probable ends the narrowing: about one wrong in ten, before the proving reading that every
/// cause asks for. Our choice, no source.
pub const STRONG_ENOUGH: f64 = 0.90;

/// Information below this many bits is not worth anyone's time.
pub const LEAST_BITS: f64 = 0.02;

/// Information per minute below this is not worth its cost.
pub const LEAST_BITS_PER_MINUTE: f64 = 0.003;

/// Whether the leader is strong enough to conclude.
#[must_use]
pub fn is_settled(standing: &Standing) -> bool {
    standing.lead() >= STRONG_ENOUGH
}

/// Whether a test that tells `bits` for `minutes` is worth making.
#[must_use]
pub fn is_worth(bits: f64, minutes: f64) -> bool {
    bits >= LEAST_BITS && bits >= LEAST_BITS_PER_MINUTE * minutes
}
