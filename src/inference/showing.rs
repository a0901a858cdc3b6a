//! What each outcome of a test says of the effects it shows, and which causes it finds.

use crate::knowledge::model::{CauseIndex, EffectIndex, Equipment, OutcomeIndex, State, Test, TestKind};

use super::Answered;
use super::network::{Network, Weights};

/// How far an answer shows the true state where the test does not say: told, looked at, measured.
///
/// Our choice, no source; tuned on the half of the invented accounts that is there to learn from.
const TOLD: f64 = 0.7;
const LOOKED: f64 = 0.8;
const MEASURED: f64 = 0.85;

/// How many times rarer an outcome that finds a cause is where another cause is the true one than among all callbacks: the usual
/// share holds the callbacks with the cause found. Our choice, no source; tuned on the accounts that may be studied.
const RARER_OTHERWISE: f64 = 3.0;

/// Whether an outcome that comes with a cause this often is met rarely with others.
fn is_proof(chance: f64, usual: f64) -> bool {
    chance > RARER_OTHERWISE * usual
}

/// What is left of the share of an outcome the equipment cannot have. Our choice, no source.
const MISFIT: f64 = 1e-3;

/// One test as evidence.
#[derive(Clone, Debug)]
pub(super) struct Showing {
    /// P(outcome) where the states are as usual.
    usual: Vec<f64>,
    /// The effects it shows: for each outcome a factor on each state.
    columns: Vec<Column>,
    /// P(outcome) where the states are as usual and the test finds no cause that is there.
    unfound: Vec<f64>,
    /// Outcomes that find a cause: rarer than usual with any other.
    finds: Vec<bool>,
    /// Causes it finds, by place in the model.
    found: Vec<(usize, Vec<Own>)>,
}

#[derive(Clone, Debug)]
struct Column {
    effect: EffectIndex,
    /// By outcome; nothing where the outcome says nothing of the effect.
    factors: Vec<Option<Vec<f64>>>,
}

/// What an outcome is under a cause the test finds.
#[derive(Clone, Copy, Debug)]
enum Own {
    /// P(outcome | cause), altogether.
    Altogether(f64),
    /// What the states give, times this.
    Times(f64),
}

impl Showing {
    pub(super) fn of(
        test: &Test,
        widths: impl Fn(EffectIndex) -> usize,
        equipment: Option<&Equipment>,
        place: impl Fn(CauseIndex) -> Option<usize>,
    ) -> Self {
        let fit: Vec<f64> = test
            .outcomes
            .iter()
            .map(|outcome| match equipment {
                Some(equipment) if !outcome.fit.fits(equipment) => MISFIT,
                _ => 1.0,
            })
            .collect();
        let shares: Vec<f64> = test
            .outcomes
            .iter()
            .zip(&fit)
            .map(|(outcome, fit)| outcome.usual * fit)
            .collect();
        let total: f64 = shares.iter().sum();
        let usual: Vec<f64> = shares.iter().map(|share| share / total).collect();
        let columns = columns(test, &usual, widths);
        let found = found(test, &usual, &fit, place);
        let finds: Vec<bool> = (0..usual.len())
            .map(|outcome| {
                found
                    .iter()
                    .any(|(_, own)| matches!(own[outcome], Own::Altogether(chance) if is_proof(chance, usual[outcome])))
            })
            .collect();
        let rarer: Vec<f64> = usual
            .iter()
            .zip(&finds)
            .map(|(usual, finds)| if *finds { usual / RARER_OTHERWISE } else { *usual })
            .collect();
        let left: f64 = rarer.iter().sum();
        Self {
            unfound: rarer.iter().map(|share| share / left).collect(),
            usual,
            columns,
            finds,
            found,
        }
    }

    /// P(outcome) where the states are as usual.
    pub(super) fn usual(&self) -> &[f64] {
        &self.usual
    }

    /// P(outcome) under a cause the test does not find, where the states are as usual.
    pub(super) fn unfound(&self) -> &[f64] {
        &self.unfound
    }

    /// Effects the test shows.
    pub(super) fn effects(&self) -> impl Iterator<Item = EffectIndex> {
        self.columns.iter().map(|column| column.effect)
    }

    fn own(&self, place: usize) -> Option<&[Own]> {
        self.found
            .iter()
            .find(|(of, _)| *of == place)
            .map(|(_, own)| own.as_slice())
    }

    /// Whether an outcome stands for a cause altogether, so that the states it shows do not count again.
    pub(super) fn is_altogether(&self, place: usize, finding: &Answered) -> bool {
        self.own(place).is_some_and(|own| {
            own.iter().enumerate().any(|(outcome, own)| {
                matches!(own, Own::Altogether(_)) && finding.share(OutcomeIndex(outcome)) > 0.5
            })
        })
    }

    /// Puts an answer's word on the states into the weights.
    pub(super) fn weigh(&self, network: &Network, finding: &Answered, weights: &mut Weights) {
        for column in &self.columns {
            let whole = finding.likelihood(&self.usual);
            let width = column.factors.iter().flatten().next().map_or(0, Vec::len);
            let mixed: Vec<f64> = (0..width)
                .map(|state| {
                    let by_outcome: Vec<f64> = self
                        .usual
                        .iter()
                        .zip(&column.factors)
                        .map(|(usual, factors)| usual * factors.as_ref().map_or(1.0, |row| row[state]))
                        .collect();
                    finding.likelihood(&by_outcome) / whole
                })
                .collect();
            weights.times(network, column.effect, &mixed);
        }
    }

    /// Natural log of what an answer is worth under a cause, relative to usual, besides what it says of the states.
    pub(super) fn log_own(&self, place: usize, finding: &Answered) -> f64 {
        let Some(own) = self.own(place) else { return 0.0 };
        let row: Vec<f64> = self
            .usual
            .iter()
            .zip(own)
            .map(|(usual, own)| match own {
                Own::Altogether(chance) if is_proof(*chance, *usual) => RARER_OTHERWISE * chance,
                Own::Altogether(chance) => *chance,
                Own::Times(factor) => usual * factor,
            })
            .collect();
        (finding.likelihood(&row) / finding.likelihood(&self.usual)).ln()
    }

    /// P(outcome | cause) by outcome, where the states of the effects are believed as given.
    pub(super) fn row(&self, network: &Network, place: usize, beliefs: &[f64]) -> Vec<f64> {
        let own = self.own(place);
        let states: Vec<f64> = (0..self.usual.len())
            .map(|outcome| {
                self.columns
                    .iter()
                    .filter_map(|column| {
                        let factors = column.factors[outcome].as_ref()?;
                        Some(network.expected(beliefs, column.effect, factors))
                    })
                    .product::<f64>()
                    * self.usual[outcome]
            })
            .collect();
        let mut row = states;
        for (share, finds) in row.iter_mut().zip(&self.finds) {
            if *finds {
                *share /= RARER_OTHERWISE;
            }
        }
        if let Some(own) = own {
            for (share, own) in row.iter_mut().zip(own) {
                match own {
                    Own::Altogether(chance) => *share = *chance,
                    Own::Times(factor) => *share *= factor,
                }
            }
        }
        let total: f64 = row.iter().sum();
        row.iter_mut().for_each(|share| *share /= total);
        row
    }
}

/// How far an answer to a test shows the true state.
pub(super) fn sureness(test: &Test) -> f64 {
    test.sureness.unwrap_or(match (&test.kind, test.state) {
        (TestKind::Reading { .. } | TestKind::Calculation { .. }, _) => MEASURED,
        (TestKind::Look, State::Told) => TOLD,
        (TestKind::Look, _) => LOOKED,
    })
}

/// Of the answers that speak of an effect, a share `1 - sureness` comes as usual whatever the state; the rest is one of the
/// outcomes that show the state. A state that no outcome shows comes out half as usual, half elsewhere: those who wrote the
/// outcomes had others in mind (our choice, no source; about even on the accounts that may be studied).
fn columns(test: &Test, usual: &[f64], widths: impl Fn(EffectIndex) -> usize) -> Vec<Column> {
    let sure = sureness(test);
    let mut effects: Vec<EffectIndex> = Vec::new();
    for shown in test.outcomes.iter().flat_map(|outcome| &outcome.shows) {
        if !effects.contains(&shown.effect) {
            effects.push(shown.effect);
        }
    }
    effects
        .into_iter()
        .map(|effect| {
            let shown: Vec<Option<&Vec<usize>>> = test
                .outcomes
                .iter()
                .map(|outcome| {
                    outcome
                        .shows
                        .iter()
                        .find(|shown| shown.effect == effect)
                        .map(|shown| &shown.states)
                })
                .collect();
            let speaking: f64 = usual
                .iter()
                .zip(&shown)
                .filter(|(_, shown)| shown.is_some())
                .map(|(usual, _)| usual)
                .sum();
            let showing = |state: usize| -> f64 {
                usual
                    .iter()
                    .zip(&shown)
                    .filter(|(_, shown)| shown.is_some_and(|states| states.contains(&state)))
                    .map(|(usual, _)| usual)
                    .sum()
            };
            let by_state: Vec<f64> = (0..widths(effect)).map(showing).collect();
            let factors = shown
                .iter()
                .map(|shown| {
                    shown.map(|states| {
                        by_state
                            .iter()
                            .enumerate()
                            .map(|(state, showing)| {
                                if *showing <= 0.0 {
                                    1.0 - sure / 2.0
                                } else if states.contains(&state) {
                                    (1.0 - sure) + sure * speaking / showing
                                } else {
                                    1.0 - sure
                                }
                            })
                            .collect()
                    })
                })
                .collect();
            Column { effect, factors }
        })
        .collect()
}

fn found(
    test: &Test,
    usual: &[f64],
    fit: &[f64],
    place: impl Fn(CauseIndex) -> Option<usize>,
) -> Vec<(usize, Vec<Own>)> {
    let mut found: Vec<(usize, Vec<Option<f64>>)> = Vec::new();
    for (number, outcome) in test.outcomes.iter().enumerate() {
        for (cause, chance) in &outcome.finds {
            let Some(place) = place(*cause) else { continue };
            let row = match found.iter().position(|(of, _)| *of == place) {
                Some(row) => row,
                None => {
                    found.push((place, vec![None; test.outcomes.len()]));
                    found.len() - 1
                }
            };
            found[row].1[number] = Some(chance * fit[number]);
        }
    }
    let silent = |number: usize| test.outcomes[OutcomeIndex(number)].says_nothing;
    let shares = usual.iter().copied().enumerate();
    let speaking: f64 = shares
        .clone()
        .filter(|(number, _)| !silent(*number))
        .map(|(_, usual)| usual)
        .sum();
    found
        .into_iter()
        .map(|(place, named)| {
            let total: f64 = named.iter().flatten().sum();
            // Named chances above this leave too little for an answer that was wrong.
            const MOST: f64 = 0.98;
            let scale = if total > MOST { MOST / total } else { 1.0 };
            // An outcome that says nothing comes as often with this cause as with any other.
            let unnamed: f64 = shares
                .clone()
                .filter(|(number, _)| named[*number].is_none() && !silent(*number))
                .map(|(_, usual)| usual)
                .sum();
            let left = (speaking * (1.0 - total * scale)) / unnamed.max(f64::MIN_POSITIVE);
            let own = (0..usual.len())
                .map(|number| match named[number] {
                    Some(chance) => Own::Altogether(speaking * chance * scale),
                    None if silent(number) => Own::Times(1.0),
                    None => Own::Times(left),
                })
                .collect();
            (place, own)
        })
        .collect()
}
