//! When enough is known.

use schemars::JsonSchema;
use serde::Serialize;

use crate::quantity::words;

use super::Standing;

/// A leader this probable ends the narrowing: about one wrong in ten, before the proving reading that every
/// cause asks for. Our choice, no source.
pub const STRONG_ENOUGH: f64 = 0.90;

/// Information below this many bits is not worth anyone's time.
pub const LEAST_BITS: f64 = 0.02;

/// Information per minute below this is not worth its cost.
pub const LEAST_BITS_PER_MINUTE: f64 = 0.003;

/// Questions after which the walk concludes by itself, offers among them. Technicians give up near there (the users'
/// account, no source).
pub const MOST_QUESTIONS: usize = 25;

/// Questions beyond that for what the person has just marked as what can be told or made: to be asked what can be done and
/// then sent home is worse than a few more. Two less than thirty in all, since the last may still bring a figure and a proof with it.
/// Our choice, no source.
pub const MARKED_BESIDES: usize = 3;

/// Told questions after those offered at the start, before hands and eyes. Our choice, no source.
pub const TOLD_FIRST: usize = 5;

/// Remainder from which the answers are said not to fit the listed causes. Our choice, no source.
pub const DOES_NOT_FIT: f64 = 0.30;

/// Leader from which a repair may be tried as the cheapest test. Our choice, no source.
pub const TRIAL: f64 = 0.60;

words! {
    /// Why the narrowing stopped, or could.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
    pub enum Reason {
        /// The leader is strong enough.
        Settled = "settled" => "the leading cause is strong enough",
        /// The repair of the leader costs less than any test that would still tell something.
        TrialRepair = "trial-repair" =>
            "the repair of the leading cause costs less than any further test, and its proof is the test",
        /// No test left is worth its cost.
        NothingWorthItsCost = "nothing-worth-its-cost" => "no test left would tell enough for its cost",
        /// So much was asked that a person had better decide whether to go on.
        LongEnough = "long-enough" => "enough was asked for one visit; what would tell stands below",
        /// What would still tell something cannot be checked now.
        NothingCanBeMade = "nothing-can-be-made" => "what would still tell cannot be checked now",
        /// The answers do not fit the listed causes; more tests of theirs will not cure that.
        DoesNotFit = "does-not-fit" => "the answers do not fit the listed causes",
    }
}

/// Whether to stop, given the minutes of the leader's repair and the cost of the best test worth making, if any.
#[must_use]
pub fn reason(standing: &Standing, repair_minutes: f64, best_test: Option<f64>) -> Option<Reason> {
    if is_settled(standing) {
        return Some(Reason::Settled);
    }
    match best_test {
        None if standing.remainder() >= DOES_NOT_FIT => Some(Reason::DoesNotFit),
        None => Some(Reason::NothingWorthItsCost),
        Some(cost) if standing.lead() >= TRIAL && repair_minutes <= cost => Some(Reason::TrialRepair),
        Some(_) => None,
    }
}

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
