//! How far an answer to one test tells two causes apart, or a cause from what is usual.
//!
//! The figure is the *typical ratio*: how many times likelier the answer is, on the geometric
//! average, under the cause that is true than under the other one, half the time the one and half the time the
//! other. With P and Q the likelihoods of the outcomes under the two causes it is exp(J / 2), J = sum of
//! (P - Q) ln(P / Q), the symmetric divergence of Jeffreys, "An invariant form for the prior probability in
//! estimation problems", Proceedings of the Royal Society A 186 (1946), pages 453 to 461; also Kullback and
//! Leibler, "On information and sufficiency", Annals of Mathematical Statistics 22 (1951), section 4. A rare outcome
//! that would nearly prove one cause raises it only as often as that outcome is met. 1 says nothing.

use crate::knowledge::model::{OutcomeIndex, TestIndex};

/// How one test bears on a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Telling {
    /// The one whose answers are compared.
    pub test: TestIndex,
    /// The typical ratio, 1 or more.
    pub ratio: f64,
    /// The outcome that does most of it.
    pub outcome: OutcomeIndex,
    /// P(that outcome) under the first cause.
    pub first: f64,
    /// P(that outcome) under the second cause.
    pub second: f64,
}

/// A test's figure for two rows; nothing when they are the same.
pub(super) fn telling(test: TestIndex, one: &[f64], other: &[f64]) -> Option<Telling> {
    let mut divergence = 0.0;
    let mut most = (0.0, 0);
    for (outcome, (p, q)) in one.iter().zip(other).enumerate() {
        if *p > 0.0 && *q > 0.0 {
            let part = (p - q) * (p / q).ln();
            divergence += part;
            if part > most.0 {
                most = (part, outcome);
            }
        }
    }
    // Rows that differ by rounding only say nothing.
    const NOTHING: f64 = 1e-9;
    if divergence < NOTHING {
        return None;
    }
    let (_, most) = most;
    Some(Telling {
        test,
        ratio: (divergence / 2.0).exp(),
        outcome: OutcomeIndex(most),
        first: one[most],
        second: other[most],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two outcomes at 0.8 and 0.2 against 0.2 and 0.8: the answer is four times likelier under the true cause
    /// with probability 0.8 and a quarter as likely with 0.2, so the mean log ratio is 0.6 ln 4.
    #[test]
    fn the_typical_ratio_is_the_geometric_mean_under_the_true_cause() {
        let telling = telling(TestIndex(0), &[0.8, 0.2], &[0.2, 0.8]).unwrap();
        assert!((telling.ratio - 4.0_f64.powf(0.6)).abs() < 1e-12, "{telling:?}");
    }

    #[test]
    fn the_same_row_says_nothing_and_the_order_does_not_matter() {
        assert_eq!(telling(TestIndex(0), &[0.3, 0.7], &[0.3, 0.7]), None);
        let there = telling(TestIndex(0), &[0.3, 0.6, 0.1], &[0.1, 0.1, 0.8]).unwrap();
        let back = telling(TestIndex(0), &[0.1, 0.1, 0.8], &[0.3, 0.6, 0.1]).unwrap();
        assert!((there.ratio - back.ratio).abs() < 1e-12);
        assert_eq!(there.outcome, OutcomeIndex(2));
    }
}
