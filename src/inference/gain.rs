//! How much a test would tell, and what it costs.

use crate::knowledge::model::{CauseIndex, Hazard, OutcomeIndex, State, Test, TestIndex};

use super::evidence::Likelihoods;
use super::shares::entropy;
use super::standing::Expected;
use super::{Answered, Model, Standing};

/// Minutes it takes to get from locked out to energized or back: open, lock and prove dead, or close up and
/// switch on. Common practice, no source.
pub const CHANGE_OF_STATE_MINUTES: f64 = 5.0;

/// Minutes to ask and answer any question.
pub const ASKING_MINUTES: f64 = 0.5;

/// Extra cost of a hazard, in minutes: the order matters more than the figures. Our choice, no source.
#[must_use]
pub const fn hazard_charge(hazard: Hazard) -> f64 {
    match hazard {
        Hazard::None => 0.0,
        Hazard::Low => 0.5,
        Hazard::Burn => 1.0,
        Hazard::StoredEnergy => 2.0,
        Hazard::Shock => 3.0,
        Hazard::ShockAndArc => 6.0,
    }
}

/// Cost of a test in minutes, when the equipment is in the state `now` (or in none yet).
#[must_use]
pub fn cost(test: &Test, now: Option<State>) -> f64 {
    ASKING_MINUTES + test.minutes + hazard_charge(test.hazard) + change_of_state(test.state, now)
}

/// Minutes to bring the equipment into the state a test needs.
#[must_use]
pub fn change_of_state(needed: State, now: Option<State>) -> f64 {
    match (needed, now) {
        (State::Told | State::Any, _) | (State::Running | State::Energised | State::Firing, None) => 0.0,
        (needed, Some(now)) if now.covers(needed) => 0.0,
        _ => CHANGE_OF_STATE_MINUTES,
    }
}

/// Expected information of a test about the cause, in bits, at least 0.
///
/// I = H(answer) - sum over causes of P(cause) H(answer | cause), from the standing; 0 for a test that does
/// not apply.
#[must_use]
pub fn information(model: &Model, standing: &Standing, test: TestIndex) -> f64 {
    if model.network().is_some() {
        return standing
            .expected(model, test)
            .map_or(0.0, |expected| told(expected, |_| 1.0));
    }
    let probabilities = standing.probabilities();
    let Some(likelihoods) = model.likelihoods(test) else {
        return 0.0;
    };
    let predicted = predictive(likelihoods, probabilities);
    let deviating = likelihoods.deviating(probabilities);
    let expected_entropy = (1.0 - deviating) * entropy(likelihoods.usual())
        + likelihoods
            .rows()
            .iter()
            .map(|(cause, row)| probabilities[*cause] * entropy(row))
            .sum::<f64>();
    (entropy(&predicted) - expected_entropy).max(0.0)
}

/// Expected information of two tests made one after the other, in bits.
///
/// Two tests can tell together what neither tells alone; the one-step choice does not see that.
#[must_use]
pub fn pair_information(model: &Model, standing: &Standing, first: TestIndex, second: TestIndex) -> f64 {
    if let Some((_, showings)) = model.network() {
        let (Some(one), Some(other)) = (standing.expected(model, first), standing.expected(model, second))
        else {
            return 0.0;
        };
        // Of two that show one effect the second tells little that the first has not told.
        let alike = match (&showings[first], &showings[second]) {
            (Some(one), Some(other)) => one
                .effects()
                .any(|effect| other.effects().any(|shown| shown == effect)),
            _ => false,
        };
        let further: f64 = if alike { 0.0 } else { further(one, other) };
        return told(one, |_| 1.0) + further;
    }
    let Some(predicted) = predicted(model, standing, first) else {
        return 0.0;
    };
    let further: f64 = predicted
        .into_iter()
        .enumerate()
        .filter(|(_, chance)| *chance > 0.0)
        .map(|(outcome, chance)| {
            let with = standing.with(model, Answered::certain(first, OutcomeIndex(outcome)));
            chance * information(model, &with, second)
        })
        .sum();
    information(model, standing, first) + further
}

/// P(outcome) of a test by outcome, after what is answered; nothing for a test that does not apply.
#[must_use]
pub fn predicted(model: &Model, standing: &Standing, test: TestIndex) -> Option<Vec<f64>> {
    if model.network().is_some() {
        return standing
            .expected(model, test)
            .map(|expected| mixed(expected, &shares(expected, &|_| 1.0)));
    }
    Some(predictive(model.likelihoods(test)?, standing.probabilities()))
}

/// How far a test would move the probability of one cause, up or down: on average over its outcomes, 0 to 1.
///
/// 0 for a test that does not apply.
#[must_use]
pub fn movement(model: &Model, standing: &Standing, test: TestIndex, cause: CauseIndex) -> f64 {
    let (Some(place), Some(chances)) = (model.place(cause), predicted(model, standing, test)) else {
        return 0.0;
    };
    let now = standing.of(cause);
    chances
        .iter()
        .enumerate()
        .filter(|(_, chance)| **chance > 0.0)
        .filter_map(|(outcome, chance)| {
            let after = standing.after(model, test, OutcomeIndex(outcome))?;
            Some(chance * (after[place] - now).abs())
        })
        .sum()
}

/// Shares of the causes worth asking about and of the rest, once each is weighed; they add up to 1.
///
/// `weigh` gets the place of a cause in the list, or the length of the list for the rest.
fn shares(expected: &Expected, weigh: &impl Fn(usize) -> f64) -> Vec<f64> {
    let mut shares: Vec<f64> = expected
        .causes
        .iter()
        .map(|(share, _)| *share)
        .chain([expected.rest.max(0.0)])
        .enumerate()
        .map(|(place, share)| share * weigh(place))
        .collect();
    let total: f64 = shares.iter().sum();
    shares
        .iter_mut()
        .for_each(|share| *share /= total.max(f64::MIN_POSITIVE));
    shares
}

fn rows(expected: &Expected) -> impl Iterator<Item = &Vec<f64>> {
    expected
        .causes
        .iter()
        .map(|(_, row)| row)
        .chain([&expected.usual])
}

fn mixed(expected: &Expected, shares: &[f64]) -> Vec<f64> {
    let mut mixed = vec![0.0; expected.usual.len()];
    for (row, share) in rows(expected).zip(shares) {
        for (sum, chance) in mixed.iter_mut().zip(row) {
            *sum += share * chance;
        }
    }
    mixed
}

/// Information of a test in bits, the causes weighed anew.
fn told(expected: &Expected, weigh: impl Fn(usize) -> f64) -> f64 {
    let shares = shares(expected, &weigh);
    let within: f64 = expected
        .entropies
        .iter()
        .zip(&shares)
        .map(|(entropy, share)| entropy * share)
        .sum();
    (entropy(&mixed(expected, &shares)) - within).max(0.0)
}

/// Information of a second test, on average over the outcomes of the first. Both list the same causes.
fn further(first: &Expected, second: &Expected) -> f64 {
    mixed(first, &shares(first, &|_| 1.0))
        .into_iter()
        .enumerate()
        .map(|(outcome, chance)| {
            let weigh = |place: usize| {
                first
                    .causes
                    .get(place)
                    .map_or(first.usual[outcome], |(_, row)| row[outcome])
            };
            chance * told(second, weigh)
        })
        .sum()
}

/// P(outcome) of a test by outcome, given the probabilities of the causes and the remainder.
#[must_use]
pub fn predictive(likelihoods: &Likelihoods, probabilities: &[f64]) -> Vec<f64> {
    let deviating = likelihoods.deviating(probabilities);
    let mut predicted: Vec<f64> = likelihoods
        .usual()
        .iter()
        .map(|usual| usual * (1.0 - deviating))
        .collect();
    for (cause, row) in likelihoods.rows() {
        for (sum, share) in predicted.iter_mut().zip(row) {
            *sum += probabilities[*cause] * share;
        }
    }
    predicted
}
