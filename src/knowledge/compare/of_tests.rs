//! What the outcomes of a test say.

use std::collections::BTreeMap;

use crate::knowledge::model::{Bound, BoundOf, Knowledge, Outcome, Test};

use super::entries::OUTCOME;
use super::pieces::{differences, lists};
use super::{Change, Sort};

pub(super) fn outcomes(
    (before, old): (&Knowledge, &Test),
    (after, new): (&Knowledge, &Test),
    changes: &mut Vec<Change>,
) {
    let test = &new.id;
    lists(
        Sort::Outcome,
        Some(test),
        &old.outcomes,
        &new.outcomes,
        changes,
        |old, new, changes| {
            let (test, outcome) = (test.clone(), new.id.clone());
            if (old.usual - new.usual).abs() > 1e-9 {
                changes.push(Change::Usual {
                    test: test.clone(),
                    outcome: outcome.clone(),
                    from: old.usual,
                    to: new.usual,
                });
            }
            let id = format!("{test}/{outcome}");
            OUTCOME.settings_of(&id, (before, old), (after, new), changes);
            let bound = |knowledge: &Knowledge, outcome: &Outcome| {
                outcome.bound.as_ref().map(|bound| bound_text(knowledge, bound))
            };
            let (from, to) = (bound(before, old), bound(after, new));
            if from != to {
                changes.push(Change::Bound {
                    test: test.clone(),
                    outcome,
                    from,
                    to,
                });
            }
            said((before, old), (after, new), &test, changes);
        },
    );
}

/// What an outcome shows and finds.
fn said(
    (before, old): (&Knowledge, &Outcome),
    (after, new): (&Knowledge, &Outcome),
    test: &str,
    changes: &mut Vec<Change>,
) {
    for (effect, from, to) in differences(&shows(before, old), &shows(after, new)) {
        changes.push(Change::Shows {
            test: test.to_owned(),
            outcome: new.id.clone(),
            effect,
            from,
            to,
        });
    }
    for (cause, from, to) in differences(&finds(before, old), &finds(after, new)) {
        changes.push(Change::Finds {
            test: test.to_owned(),
            outcome: new.id.clone(),
            cause,
            from,
            to,
        });
    }
}

fn shows(knowledge: &Knowledge, outcome: &Outcome) -> BTreeMap<String, String> {
    let by_effect = outcome.shows.iter().map(|shown| {
        let effect = &knowledge.effects[shown.effect];
        let mut states: Vec<&str> = shown
            .states
            .iter()
            .map(|state| effect.states[*state].id.as_str())
            .collect();
        states.sort_unstable();
        (effect.id.clone(), states.join(" or "))
    });
    by_effect.collect()
}

fn finds(knowledge: &Knowledge, outcome: &Outcome) -> BTreeMap<String, String> {
    let by_cause = outcome
        .finds
        .iter()
        .map(|(cause, chance)| (knowledge.causes[*cause].id.clone(), chance.to_string()));
    by_cause.collect()
}

fn bound_text(knowledge: &Knowledge, bound: &Bound) -> String {
    let side = if bound.below { "below" } else { "above" };
    match bound.of {
        None => format!("{side} {} in base units", bound.figure),
        Some(BoundOf::Fact(fact)) => format!("{side} {} of {}", bound.figure, knowledge.facts[fact].id),
        Some(BoundOf::Reading(test)) => format!("{side} {} of {}", bound.figure, knowledge.tests[test].id),
    }
}
