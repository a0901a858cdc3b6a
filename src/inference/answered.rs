//! One answered test.

use crate::knowledge::model::{OutcomeIndex, TestIndex};

/// One answered test.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// A look with several outcomes true together stands here once for each.
    pub test: TestIndex,
    /// Its outcome, or the one most leaned to.
    pub outcome: OutcomeIndex,
    /// What the observation alone says of each outcome, scale-free; nothing when the outcome is certain.
    leaning: Option<Vec<f64>>,
}

impl Answered {
    /// A certain answer.
    #[must_use]
    pub fn certain(test: TestIndex, outcome: OutcomeIndex) -> Self {
        Self {
            test,
            outcome,
            leaning: None,
        }
    }

    /// An answer nobody is sure of, as virtual evidence: how likely the observation is under each outcome.
    ///
    /// The scale does not matter. Returns nothing unless some weight is above 0 and all are finite.
    #[must_use]
    pub fn leaning(test: TestIndex, weights: Vec<f64>) -> Option<Self> {
        let total: f64 = weights.iter().sum();
        let sound = weights.iter().all(|weight| weight.is_finite() && *weight >= 0.0) && total > 0.0;
        let most = weights
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(place, _)| place);
        let outcome = OutcomeIndex(most.filter(|_| sound)?);
        let weights = weights.iter().map(|weight| weight / total).collect();
        Some(Self {
            test,
            outcome,
            leaning: Some(weights),
        })
    }

    /// How likely the observation is under a cause, given P(outcome | cause) by outcome.
    #[must_use]
    pub fn likelihood(&self, row: &[f64]) -> f64 {
        match &self.leaning {
            None => row[self.outcome.place()],
            Some(weights) => weights
                .iter()
                .zip(row)
                .map(|(weight, share)| weight * share)
                .sum(),
        }
    }

    /// Share of the observation that falls on one of the test's outcomes, which add up to 1.
    #[must_use]
    pub fn share(&self, outcome: OutcomeIndex) -> f64 {
        self.leaning.as_ref().map_or_else(
            || f64::from(u8::from(outcome == self.outcome)),
            |weights| weights[outcome.place()],
        )
    }

    /// Share of the observation that falls on its outcome: 1 when it is certain.
    #[must_use]
    pub fn certainty(&self) -> f64 {
        self.leaning
            .as_ref()
            .map_or(1.0, |weights| weights[self.outcome.place()])
    }
}
