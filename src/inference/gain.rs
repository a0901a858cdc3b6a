//! How much a test would tell, and what it costs.

use crate::knowledge::model::{Hazard, OutcomeIndex, State, Test, TestIndex};

use super::evidence::Likelihoods;
use super::{Finding, Model, Standing};

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
/// not apply. A test whose echo group has j findings already is counted at 1/(j+1).
#[must_use]
pub fn information(model: &Model, standing: &Standing, findings: &[Finding], test: TestIndex) -> f64 {
    let Some(likelihoods) = model.likelihoods(test) else {
        return 0.0;
    };
    let probabilities = standing.probabilities();
    let predicted = predictive(likelihoods, probabilities);
    let deviating: f64 = likelihoods
        .rows()
        .iter()
        .map(|(cause, _)| probabilities[*cause])
        .sum();
    let expected_entropy = (1.0 - deviating) * entropy(likelihoods.usual())
        + likelihoods
            .rows()
            .iter()
            .map(|(cause, row)| probabilities[*cause] * entropy(row))
            .sum::<f64>();
    let seen = model.echo(test).map_or(0, |group| {
        findings
            .iter()
            .filter(|finding| model.echo(finding.test) == Some(group))
            .count()
    });
    (entropy(&predicted) - expected_entropy).max(0.0) / (seen + 1) as f64
}

/// Expected information of two tests made one after the other, in bits.
///
/// Two tests can tell together what neither tells alone; the one-step choice does not see that.
#[must_use]
pub fn pair_information(
    model: &Model,
    standing: &Standing,
    findings: &[Finding],
    first: TestIndex,
    second: TestIndex,
) -> f64 {
    let Some(likelihoods) = model.likelihoods(first) else {
        return 0.0;
    };
    let further: f64 = predictive(likelihoods, standing.probabilities())
        .into_iter()
        .enumerate()
        .filter(|(_, chance)| *chance > 0.0)
        .map(|(outcome, chance)| {
            let mut with = findings.to_vec();
            with.push(Finding::certain(first, OutcomeIndex(outcome)));
            chance * information(model, &Standing::new(model, &with), &with, second)
        })
        .sum();
    information(model, standing, findings, first) + further
}

/// P(outcome) of a test by outcome, given the probabilities of the causes and the remainder.
#[must_use]
pub fn predictive(likelihoods: &Likelihoods, probabilities: &[f64]) -> Vec<f64> {
    let deviating: f64 = likelihoods
        .rows()
        .iter()
        .map(|(cause, _)| probabilities[*cause])
        .sum();
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

/// Entropy of a distribution in bits.
#[must_use]
pub fn entropy(shares: &[f64]) -> f64 {
    shares
        .iter()
        .filter(|share| **share > 0.0)
        .map(|share| -share * share.log2())
        .sum()
}
