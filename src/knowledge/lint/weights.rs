//! What the outcomes of tests say of causes, as the rules about reach and separation need it: how many times likelier
//! than usual an outcome is under a cause.
//!
//! It is the plain product over the effects an outcome shows, without how far an answer shows the true state; the
//! ranking itself is done in `inference`.

use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Cause, CauseIndex, EffectIndex, Knowledge, Outcome, TestIndex, TreeIndex};

/// From here on an outcome is said to raise a cause, or to tell two causes apart. Our choice, no source.
const TELLING: f64 = 1.5;

/// From this share on a cause is said to come under a complaint. Our choice, no source.
const COMES_UNDER: f64 = 0.01;

/// By cause, test and outcome.
#[derive(Default)]
pub(super) struct Weights {
    rows: Indexed<CauseIndex, Indexed<TestIndex, Vec<f64>>>,
}

impl Weights {
    pub(super) fn of(knowledge: &Knowledge) -> Self {
        let rows = knowledge
            .causes
            .indexed()
            .map(|(cause, known)| {
                let shares = all_shares(knowledge, known);
                let outcomes = knowledge.tests.iter().map(|test| &test.outcomes);
                outcomes
                    .map(|outcomes| {
                        let weight = |outcome| weight(knowledge, outcome, cause, &shares);
                        outcomes.iter().map(weight).collect()
                    })
                    .collect()
            })
            .collect();
        Self { rows }
    }

    /// Whether some outcome of the test speaks for the cause.
    pub(super) fn raises(&self, test: TestIndex, cause: CauseIndex) -> bool {
        self.rows[cause][test].iter().any(|weight| *weight >= TELLING)
    }

    /// Whether some outcome of the test speaks for one of two causes more than for the other.
    pub(super) fn tells_apart(&self, test: TestIndex, one: CauseIndex, other: CauseIndex) -> bool {
        let (first, second) = (&self.rows[one][test], &self.rows[other][test]);
        let mut pairs = first.iter().zip(second);
        pairs.any(|(one, other)| one.max(*other) >= TELLING * one.min(*other))
    }
}

/// Whether an outcome that finds a cause is met more often with it than without.
pub(super) fn finds(outcome: &Outcome, cause: CauseIndex) -> bool {
    let found = outcome.finding(cause);
    found.is_some_and(|chance| chance >= TELLING * outcome.usual)
}

/// Whether a cause can be behind a complaint, by what it does to the effect `complaint`.
pub(super) fn comes_under(knowledge: &Knowledge, cause: &Cause, complaint: TreeIndex) -> bool {
    let id = &knowledge.trees[complaint].id;
    let state = knowledge.effect(COMPLAINT).and_then(|effect| {
        let states = &knowledge.effects[effect].states;
        Some((effect, states.iter().position(|state| state.id == *id)?))
    });
    state.is_none_or(|(effect, state)| shares(knowledge, cause, effect)[state] >= COMES_UNDER)
}

fn all_shares(knowledge: &Knowledge, cause: &Cause) -> Indexed<EffectIndex, Vec<f64>> {
    knowledge
        .effects
        .indices()
        .map(|effect| shares(knowledge, cause, effect))
        .collect()
}

/// P(state | cause) of an effect: as the cause says; else as it follows from the other effect; else as usual.
fn shares(knowledge: &Knowledge, cause: &Cause, effect: EffectIndex) -> Vec<f64> {
    if let Some(does) = cause.does.iter().find(|does| does.effect == effect) {
        return does.shares.clone();
    }
    let known = &knowledge.effects[effect];
    let usual: Vec<f64> = known.states.iter().map(|state| state.usual).collect();
    let Some(follows) = &known.follows else {
        return usual;
    };
    let above = shares(knowledge, cause, follows.effect);
    let mut mixed = vec![0.0; usual.len()];
    for (share, given) in above.iter().zip(&follows.given) {
        for (sum, part) in mixed.iter_mut().zip(given.as_ref().unwrap_or(&usual)) {
            *sum += share * part;
        }
    }
    mixed
}

fn weight(
    knowledge: &Knowledge,
    outcome: &Outcome,
    cause: CauseIndex,
    shares: &Indexed<EffectIndex, Vec<f64>>,
) -> f64 {
    if let Some(chance) = outcome.finding(cause) {
        return chance / outcome.usual.max(f64::MIN_POSITIVE);
    }
    let shown = outcome.shows.iter();
    shown
        .map(|shown| {
            let states = &knowledge.effects[shown.effect].states;
            let of_cause: f64 = shown
                .states
                .iter()
                .map(|state| shares[shown.effect][*state])
                .sum();
            let usual: f64 = shown.states.iter().map(|state| states[*state].usual).sum();
            of_cause / usual.max(f64::MIN_POSITIVE)
        })
        .product()
}
