//! What an outcome says about a cause, as likelihoods.

use crate::knowledge::model::{CauseIndex, Equipment, Outcome, OutcomeIndex, Sign, Strength, Test};

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

/// P(effect) when several conditions are present, each of which can bring it about by itself.
///
/// *Formula* 1 - (1 - leak) x product of (1 - strength).
///
/// *Arguments* strengths of the conditions present and the leak, each 0 to 1.
///
/// *Source* Probabilistic Reasoning in Intelligent Systems (1988), noisy-OR gates, from memory; with the leak: Noisy-OR
/// model, <https://github.com/rcrtss/miis2025-spm>.
#[must_use]
pub fn noisy_or(strengths: &[f64], leak: f64) -> f64 {
    1.0 - (1.0 - leak) * strengths.iter().map(|strength| 1.0 - strength).product::<f64>()
}

/// P(outcome | cause) by outcome: numbers as they stand, the rest shared by `usual x factor`.
fn row(usual: &[f64], signs: &[Option<Sign>]) -> Vec<f64> {
    let stated: f64 = signs
        .iter()
        .filter_map(|sign| match sign {
            Some(Sign::Chance(chance)) => Some(chance),
            _ => None,
        })
        .sum();
    let weights: Vec<f64> = usual
        .iter()
        .zip(signs)
        .map(|(usual, sign)| match sign {
            None => *usual,
            Some(Sign::Word(strength)) => usual * factor(*strength),
            Some(Sign::Chance(_)) => 0.0,
        })
        .collect();
    let total: f64 = weights.iter().sum();
    // Numbers that leave nothing for the other outcomes are brought to 1 together with a floor for them: an
    // answer that was wrong must stay undoable.
    let left = (1.0 - stated).max(LEAST * weights.iter().filter(|weight| **weight > 0.0).count() as f64);
    let mut row: Vec<f64> = weights
        .iter()
        .zip(signs)
        .map(|(weight, sign)| match sign {
            Some(Sign::Chance(chance)) => *chance,
            _ if total > 0.0 => weight / total * left,
            _ => 0.0,
        })
        .collect();
    let sum: f64 = row.iter().sum();
    row.iter_mut().for_each(|share| *share /= sum);
    row
}

/// Least likelihood of an outcome, where stated numbers leave it none: our choice, no source.
const LEAST: f64 = 0.01;

/// What is left of the share of an outcome the equipment cannot have. Not zero: an answer file may give it all the same,
/// and then it must weigh between the causes as its signs say. Our choice, no source.
const MISFIT: f64 = 1e-3;

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
    /// `place` gives the place of a cause in the model, or nothing when the model leaves it out. An outcome that is
    /// not offered for the equipment leaves its share to the others.
    pub fn of(
        test: &Test,
        equipment: Option<&Equipment>,
        place: impl Fn(CauseIndex) -> Option<usize>,
    ) -> Self {
        let fit = |outcome: &Outcome| match equipment {
            Some(equipment) if !outcome.fit.fits(equipment) => MISFIT,
            _ => 1.0,
        };
        let share = |outcome: &Outcome| outcome.usual * fit(outcome);
        let total: f64 = test.outcomes.iter().map(share).sum();
        let even = 1.0 / test.outcomes.len().max(1) as f64;
        let usual: Vec<f64> = test
            .outcomes
            .iter()
            .map(|outcome| if total > 0.0 { share(outcome) / total } else { even })
            .collect();
        let mut signs: Vec<(usize, Vec<Option<Sign>>)> = Vec::new();
        for (number, outcome) in test.outcomes.iter().enumerate() {
            for &(cause, sign) in &outcome.signs {
                let Some(place) = place(cause) else { continue };
                let row = match signs.iter().position(|(of, _)| *of == place) {
                    Some(found) => found,
                    None => {
                        signs.push((place, vec![None; test.outcomes.len()]));
                        signs.len() - 1
                    }
                };
                signs[row].1[number] = Some(match sign {
                    Sign::Chance(chance) => Sign::Chance(chance * fit(outcome)),
                    word @ Sign::Word(_) => word,
                });
            }
        }
        let rows = signs
            .into_iter()
            .map(|(place, signs)| (place, row(&usual, &signs)))
            .collect();
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
        self.row(cause)[outcome.0]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stands_as_it_is_and_words_share_the_rest() {
        let signs = [
            Some(Sign::Chance(0.8)),
            None,
            Some(Sign::Word(Strength::ArguesAgainst)),
        ];
        let row = row(&[0.2, 0.3, 0.5], &signs);
        // The rest of 0.2 is shared as 0.3 to 0.5 x 0.35.
        let (second, third) = (0.3, 0.5 * 0.35);
        assert!((row[0] - 0.8).abs() < 1e-12);
        assert!((row[1] - 0.2 * second / (second + third)).abs() < 1e-12);
        assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn numbers_that_leave_nothing_leave_a_little() {
        let row = row(&[0.5, 0.5], &[Some(Sign::Chance(0.999_999)), None]);
        assert!(
            row[1] > 0.005 && (row.iter().sum::<f64>() - 1.0).abs() < 1e-12,
            "{row:?}"
        );
    }
}
