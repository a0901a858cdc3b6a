//! What an outcome says about a cause, as likelihoods.

use crate::knowledge::model::{CauseIndex, OutcomeIndex, Strength, Test};

/// Factor of a sign on the usual share of its outcome: the one table of verbal strengths.
///
/// The ratios follow the common reading of verbal evidence scales (strong about ten to one, moderate about
/// three to one); our choice, no source. None is zero: an answer that was wrong must stay undoable.
#[must_use]
pub const fn factor(strength: Strength) -> f64 {
    match strength {
        Strength::NearlyProves => 20.0,
        Strength::Strong => 7.0,
        Strength::Moderate => 3.0,
        Strength::Weak => 1.6,
        Strength::ArguesAgainst => 0.35,
        Strength::RulesOut => 0.03,
    }
}

/// Likelihoods of one test: P(outcome | cause) for every cause, most of them alike.
#[derive(Clone, Debug)]
pub struct Likelihoods {
    /// P(outcome) for the remainder and for every cause without a sign in this test; sums to 1.
    usual: Vec<f64>,
    /// Rows of the causes with a sign, by place among the model's causes; each sums to 1.
    rows: Vec<(usize, Vec<f64>)>,
}

impl Likelihoods {
    /// Works out the likelihoods of a test for the causes of a model.
    ///
    /// `place` gives the place of a cause in the model, or nothing when the model leaves it out.
    pub fn of(test: &Test, place: impl Fn(CauseIndex) -> Option<usize>) -> Self {
        let total: f64 = test.outcomes.iter().map(|outcome| outcome.usual).sum();
        let even = 1.0 / test.outcomes.len().max(1) as f64;
        let usual: Vec<f64> = test
            .outcomes
            .iter()
            .map(|outcome| if total > 0.0 { outcome.usual / total } else { even })
            .collect();
        let mut rows: Vec<(usize, Vec<f64>)> = Vec::new();
        for (number, outcome) in test.outcomes.iter().enumerate() {
            for &(cause, strength) in &outcome.signs {
                let Some(place) = place(cause) else { continue };
                let row = match rows.iter_mut().position(|(of, _)| *of == place) {
                    Some(found) => &mut rows[found].1,
                    None => {
                        rows.push((place, usual.clone()));
                        let last = rows.len() - 1;
                        &mut rows[last].1
                    }
                };
                row[number] = usual[number] * factor(strength);
            }
        }
        for (_, row) in &mut rows {
            let sum: f64 = row.iter().sum();
            row.iter_mut().for_each(|share| *share /= sum);
        }
        Self { usual, rows }
    }

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

    /// P(outcome) where no sign applies.
    #[must_use]
    pub fn usual(&self) -> &[f64] {
        &self.usual
    }

    /// Rows of the causes that have a sign.
    #[must_use]
    pub fn rows(&self) -> &[(usize, Vec<f64>)] {
        &self.rows
    }

    /// P(outcome | cause) for one cause of the model.
    #[must_use]
    pub fn given(&self, cause: usize, outcome: OutcomeIndex) -> f64 {
        self.rows
            .iter()
            .find(|(of, _)| *of == cause)
            .map_or(self.usual[outcome.0], |(_, row)| row[outcome.0])
    }
}
