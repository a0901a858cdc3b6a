//! What every test comes to under a hidden fault: what finds it, what fits its states, and no second fault.

use fastrand::Rng;

use crate::inference::shares::pick;
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    CauseIndex, EffectIndex, Knowledge, Outcome, OutcomeIndex, State, Test, TestIndex, TestKind,
};
use crate::walk::Walk;

/// How many times oftener than usual an outcome comes with a cause for it to be a proof of it, as in the inference. Outcomes
/// named for a cause below that are only met under it as often as said.
const PROOF: f64 = 3.0;

pub(super) fn is_proof(outcome: &Outcome, chance: f64) -> bool {
    chance > PROOF * outcome.usual
}

/// Outcomes that can be met and prove a cause, each with how often it comes with it.
#[must_use]
pub fn proofs(walk: &Walk<'_>, test: TestIndex, truth: CauseIndex) -> Vec<(OutcomeIndex, f64)> {
    let known = &walk.knowledge().tests[test];
    walk.outcomes_offered(test)
        .into_iter()
        .filter_map(|at| {
            let outcome = &known.outcomes[at];
            let chance = outcome
                .finding(truth)
                .filter(|chance| is_proof(outcome, *chance))?;
            Some((at, chance))
        })
        .collect()
}

/// What each test finds of the fault itself; nothing where it finds it not.
///
/// How plainly the fault shows itself is one figure for all tests: what finds it nine times in ten finds it wherever one does
/// that finds it half the time. It is never so hidden that no test finds it. `plain`: that figure.
pub(super) fn found(
    walk: &Walk<'_>,
    truth: CauseIndex,
    states: &Indexed<EffectIndex, usize>,
    plain: f64,
    rng: &mut Rng,
) -> Indexed<TestIndex, Option<OutcomeIndex>> {
    let knowledge = walk.knowledge();
    let by_test: Indexed<TestIndex, Vec<(OutcomeIndex, f64)>> = knowledge
        .tests
        .indices()
        .map(|test| {
            if walk.applies(test) {
                proofs(walk, test, truth)
            } else {
                Vec::new()
            }
        })
        .collect();
    let total = |proofs: &Vec<(OutcomeIndex, f64)>| proofs.iter().map(|(_, chance)| chance).sum::<f64>();
    let most = by_test.iter().map(total).fold(0.0, f64::max);
    let hidden = plain * most.min(1.0);
    by_test
        .indexed()
        .map(|(test, proofs)| {
            if total(proofs) <= hidden {
                return None;
            }
            let known = &knowledge.tests[test];
            let fitting: Vec<(OutcomeIndex, f64)> = proofs
                .iter()
                .copied()
                .filter(|(outcome, _)| contradicted(known, *outcome, states) == 0)
                .collect();
            let among = if fitting.is_empty() { proofs } else { &fitting };
            let shares: Vec<f64> = among.iter().map(|(_, chance)| *chance).collect();
            Some(among[pick(rng, &shares)].0)
        })
        .collect()
}

/// How many effects an outcome shows in other states than they are in.
#[must_use]
pub fn contradicted(test: &Test, outcome: OutcomeIndex, states: &Indexed<EffectIndex, usize>) -> usize {
    let shown = &test.outcomes[outcome].shows;
    shown
        .iter()
        .filter(|shown| !shown.states.contains(&states[shown.effect]))
        .count()
}

pub(super) fn clashes(
    knowledge: &Knowledge,
    states: &Indexed<EffectIndex, usize>,
    found: &Indexed<TestIndex, Option<OutcomeIndex>>,
) -> usize {
    found
        .iter()
        .zip(&knowledge.tests)
        .filter_map(|(found, test)| Some(contradicted(test, (*found)?, states)))
        .sum()
}

/// Tests that prove another cause and not this one: what is usual among all callbacks holds those with other faults too, and an
/// exercise has one.
pub(super) fn second_faults(
    knowledge: &Knowledge,
    truth: CauseIndex,
    outcomes: &Indexed<TestIndex, Option<OutcomeIndex>>,
) -> Vec<TestIndex> {
    let proves_another = |test: TestIndex, at: OutcomeIndex| {
        let outcome = &knowledge.tests[test].outcomes[at];
        outcome.finding(truth).is_none() && outcome.finds.iter().any(|(_, chance)| is_proof(outcome, *chance))
    };
    outcomes
        .indexed()
        .filter_map(|(test, outcome)| proves_another(test, (*outcome)?).then_some(test))
        .collect()
}

/// Takes the states of a fresh sample for the effects that some tests show, with all that hang together with them:
/// chains of effects are sampled independently, so what is kept stays as likely as it was. What shows the fault itself
/// is kept.
pub(super) fn resample(
    knowledge: &Knowledge,
    tests: &[TestIndex],
    found: &Indexed<TestIndex, Option<OutcomeIndex>>,
    fresh: &Indexed<EffectIndex, usize>,
    states: &mut Indexed<EffectIndex, usize>,
) {
    let root = |effect: EffectIndex| {
        let mut at = effect;
        while let Some(follows) = &knowledge.effects[at].follows {
            at = follows.effect;
        }
        at
    };
    let shown = |test: &Test| -> Vec<EffectIndex> {
        let shows = test.outcomes.iter().flat_map(|outcome| &outcome.shows);
        shows.map(|shown| root(shown.effect)).collect()
    };
    let kept: Vec<EffectIndex> = found
        .iter()
        .zip(&knowledge.tests)
        .filter_map(|(found, test)| Some(&test.outcomes[(*found)?].shows))
        .flatten()
        .map(|shown| root(shown.effect))
        .collect();
    let anew: Vec<EffectIndex> = tests
        .iter()
        .flat_map(|test| shown(&knowledge.tests[*test]))
        .collect();
    for effect in states.indices() {
        if anew.contains(&root(effect)) && !kept.contains(&root(effect)) {
            states[effect] = fresh[effect];
        }
    }
}

/// Whether a test makes sense here: it applies to the equipment and belongs to the complaint.
fn belongs(walk: &Walk<'_>, test: TestIndex) -> bool {
    let of = &walk.knowledge().tests[test].complaints;
    walk.applies(test) && (of.is_empty() || walk.complaint().is_some_and(|own| of.contains(&own)))
}

/// What every test comes to.
pub(super) fn of_all(
    walk: &Walk<'_>,
    truth: CauseIndex,
    states: &Indexed<EffectIndex, usize>,
    found: &Indexed<TestIndex, Option<OutcomeIndex>>,
    rng: &mut Rng,
) -> Indexed<TestIndex, Option<OutcomeIndex>> {
    let knowledge = walk.knowledge();
    let mut outcomes: Indexed<TestIndex, Option<OutcomeIndex>> = knowledge
        .tests
        .indices()
        .map(|test| {
            if !belongs(walk, test) {
                return None;
            }
            found[test].or_else(|| unfound(walk, test, truth, states, rng))
        })
        .collect();
    // What was told and what is tried now are the same thing.
    for (test, known) in knowledge.tests.indexed() {
        if let (Some(told), Some(_)) = (known.outcomes_of, outcomes[test])
            && let Some(said) = outcomes[told]
        {
            let id = &knowledge.tests[told].outcomes[said].id;
            outcomes[test] = known.outcome(id).or(outcomes[test]);
        }
    }
    outcomes
}

/// What a test comes to that does not find the fault: sampled among the outcomes that fit the states, by how often each
/// is met.
fn unfound(
    walk: &Walk<'_>,
    index: TestIndex,
    truth: CauseIndex,
    states: &Indexed<EffectIndex, usize>,
    rng: &mut Rng,
) -> Option<OutcomeIndex> {
    let knowledge = walk.knowledge();
    let test = &knowledge.tests[index];
    let offered = walk.outcomes_offered(index);
    let outcome = |at: OutcomeIndex| &test.outcomes[at];
    let shown_by_any = |effect: EffectIndex| {
        offered.iter().any(|at| {
            outcome(*at)
                .shows
                .iter()
                .any(|shown| shown.effect == effect && shown.states.contains(&states[effect]))
        })
    };
    let fits = |place: OutcomeIndex| {
        outcome(place)
            .shows
            .iter()
            .all(|shown| shown.states.contains(&states[shown.effect]) || !shown_by_any(shown.effect))
    };
    let says_otherwise = |place: OutcomeIndex| contradicted(test, place, states);
    let mut left = offered.clone();
    // The nearest ones, where none fits in everything.
    if left.iter().any(|place| fits(*place)) {
        left.retain(|place| fits(*place));
    }
    let least = left.iter().map(|place| says_otherwise(*place)).min()?;
    left.retain(|place| says_otherwise(*place) == least);
    // Whoever looks or tries sees what there is to see.
    if test.state != State::Told && left.iter().any(|place| !outcome(*place).shows.is_empty()) {
        keep(&mut left, |place| !outcome(place).says_nothing);
    }
    // What proves this fault was sampled already; what proves another would be a second fault.
    keep(&mut left, |place| {
        !outcome(place)
            .finding(truth)
            .is_some_and(|chance| is_proof(outcome(place), chance))
    });
    keep(&mut left, |place| {
        let others = &outcome(place).finds;
        outcome(place).finding(truth).is_some()
            || !others.iter().any(|(_, chance)| is_proof(outcome(place), *chance))
    });
    // A danger comes from the fault and its states, not beside them; what was repaired or dried on the way is.
    keep(&mut left, |place| outcome(place).raises.is_empty());
    let clearing: Vec<OutcomeIndex> = knowledge
        .holds
        .iter()
        .flat_map(|hold| &hold.cleared_by)
        .filter(|(proof, _)| *proof == index)
        .flat_map(|(_, clearing)| clearing.iter().copied())
        .collect();
    keep(&mut left, |place| {
        clearing.is_empty() || clearing.contains(&place)
    });
    // Facts are to be found in an exercise, so a calculation has what it needs.
    let is_calculation = matches!(test.kind, TestKind::Calculation { .. });
    keep(&mut left, |place| !is_calculation || !outcome(place).says_nothing);
    let shares: Vec<f64> = shares_left(test, truth, states, &left);
    (!left.is_empty()).then(|| left[pick(rng, &shares)])
}

/// How often each outcome that is left is met: as often as said for the cause, the others share what that leaves. Whoever knows the
/// state says it: what tells nothing is met as often as usual and no oftener (as in the inference).
fn shares_left(
    test: &Test,
    truth: CauseIndex,
    states: &Indexed<EffectIndex, usize>,
    left: &[OutcomeIndex],
) -> Vec<f64> {
    let said: f64 = test
        .outcomes
        .iter()
        .filter_map(|outcome| outcome.finding(truth))
        .sum();
    let usual_of = |effect: EffectIndex, fits: &dyn Fn(&[usize]) -> bool| -> f64 {
        let shows = |outcome: &&Outcome| {
            let mut shown = outcome.shows.iter().filter(|shown| shown.effect == effect);
            shown.any(|shown| fits(&shown.states))
        };
        test.outcomes
            .iter()
            .filter(shows)
            .map(|outcome| outcome.usual)
            .sum()
    };
    let weight = |outcome: &Outcome| -> f64 {
        let speaking = outcome.shows.iter().map(|shown| {
            let showing = usual_of(shown.effect, &|of| of.contains(&states[shown.effect]));
            if showing > 0.0 {
                usual_of(shown.effect, &|_| true) / showing
            } else {
                1.0
            }
        });
        outcome.usual * speaking.product::<f64>()
    };
    let outcomes = left.iter().map(|place| &test.outcomes[*place]);
    let unsaid = outcomes
        .clone()
        .filter(|outcome| outcome.finding(truth).is_none());
    let all: f64 = unsaid.map(weight).sum();
    let scale = (1.0 - said).max(0.02) / all.max(f64::MIN_POSITIVE);
    outcomes
        .map(|outcome| outcome.finding(truth).unwrap_or_else(|| weight(outcome) * scale))
        .collect()
}

/// Drops what is not wanted, unless nothing would be left.
fn keep(left: &mut Vec<OutcomeIndex>, wanted: impl Fn(OutcomeIndex) -> bool) {
    if left.iter().any(|place| wanted(*place)) {
        left.retain(|place| wanted(*place));
    }
}
