//! P(outcome | cause) of one test as a table.

use crate::knowledge::model::OutcomeIndex;

/// Likelihoods of one test: P(outcome | cause) for every cause, most of them alike.
#[derive(Clone, Debug)]
pub struct Likelihoods {
    /// P(outcome) for the remainder and for every cause without a row; sums to 1.
    usual: Vec<f64>,
    /// Rows of the causes that differ, by place among the model's causes; each sums to 1.
    rows: Vec<(usize, Vec<f64>)>,
}

impl Likelihoods {
    /// Takes likelihoods as given: one row per cause and the usual shares, each over the outcomes.
    ///
    /// For tables worked out elsewhere, such as published examples. Every usual share must be above 0.
    #[must_use]
    pub fn from_rows(usual: Vec<f64>, rows: Vec<Vec<f64>>) -> Self {
        Self {
            usual,
            rows: rows.into_iter().enumerate().collect(),
        }
    }

    /// P(outcome) of a cause without a row.
    #[must_use]
    pub fn usual(&self) -> &[f64] {
        &self.usual
    }

    /// Rows of the causes that differ from usual.
    #[must_use]
    pub fn rows(&self) -> &[(usize, Vec<f64>)] {
        &self.rows
    }

    /// Probability of all causes that differ from usual together.
    pub(super) fn deviating(&self, probabilities: &[f64]) -> f64 {
        self.rows.iter().map(|(cause, _)| probabilities[*cause]).sum()
    }

    /// P(outcome | cause) by outcome, for one cause of the model.
    #[must_use]
    pub fn row(&self, cause: usize) -> &[f64] {
        self.rows
            .iter()
            .find(|(of, _)| *of == cause)
            .map_or(&self.usual, |(_, row)| row)
    }

    /// P(outcome | cause) for one cause of the model.
    #[must_use]
    pub fn given(&self, cause: usize, outcome: OutcomeIndex) -> f64 {
        self.row(cause)[outcome.place()]
    }
}
