//! What no way of asking can beat.

use super::Model;
use super::shares::entropy;
use crate::knowledge::model::TestIndex;

/// The most information one test can give whatever the causes' probabilities, in bits: its channel capacity.
///
/// Worked out by the alternating maximization of Blahut and Arimoto (from memory) to 1e-9 bit.
#[must_use]
pub fn capacity(model: &Model, test: TestIndex) -> f64 {
    let Some(likelihoods) = model.likelihoods(test) else {
        return 0.0;
    };
    // All causes without a sign share one row, so the channel has one input for them and one for each other.
    let mut rows: Vec<&[f64]> = vec![likelihoods.usual()];
    rows.extend(likelihoods.rows().iter().map(|(_, row)| row.as_slice()));
    let mut weights = vec![1.0 / rows.len() as f64; rows.len()];
    let mut lower = 0.0;
    for _ in 0..2000 {
        let outcomes = rows[0].len();
        let mixed: Vec<f64> = (0..outcomes)
            .map(|outcome| {
                weights
                    .iter()
                    .zip(&rows)
                    .map(|(weight, row)| weight * row[outcome])
                    .sum()
            })
            .collect();
        let distances: Vec<f64> = rows
            .iter()
            .map(|row| {
                row.iter()
                    .zip(&mixed)
                    .filter(|(share, _)| **share > 0.0)
                    .map(|(share, mixed)| share * (share / mixed).log2())
                    .sum()
            })
            .collect();
        let scaled: Vec<f64> = weights
            .iter()
            .zip(&distances)
            .map(|(weight, distance)| weight * distance.exp2())
            .collect();
        let total: f64 = scaled.iter().sum();
        lower = total.log2();
        let upper = distances.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        weights = scaled.iter().map(|weight| weight / total).collect();
        if upper - lower < 1e-9 {
            break;
        }
    }
    lower
}

/// Least expected number of tests that bring the entropy from that of the priors down to what is left at the stop.
///
/// *Formula* (H(prior) - E[H at stop]) / largest capacity. Ours, from the chain rule of information.
#[must_use]
pub fn least_tests(model: &Model, tests: &[TestIndex], left: f64) -> f64 {
    let largest = tests
        .iter()
        .map(|test| capacity(model, *test))
        .fold(0.0, f64::max);
    if largest <= 0.0 {
        f64::INFINITY
    } else {
        ((entropy(model.priors()) - left) / largest).max(0.0)
    }
}
