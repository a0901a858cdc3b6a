//! Tests: when they count, and what their outcomes say.

use std::collections::BTreeMap;

use crate::knowledge::model::{Bound, BoundOf, Knowledge, Outcome, Test, TestKind};

use super::entries::raises;
use super::pieces::{differences, inputs_text, looked_up, reworded, setting, texts, written};
use super::{Change, Sort};

pub(super) fn test(
    (before, old): (&Knowledge, &Test),
    (after, new): (&Knowledge, &Test),
    changes: &mut Vec<Change>,
) {
    let id = &new.id;
    let mut differs = |key, from: String, to: String| setting(Sort::Test, id, key, &from, &to, changes);
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    differs("state", written(&old.state), written(&new.state));
    differs("hazard", written(&old.hazard), written(&new.hazard));
    differs("job", written(&old.job), written(&new.job));
    differs("minutes", old.minutes.to_string(), new.minutes.to_string());
    differs("safety", old.safety.to_string(), new.safety.to_string());
    differs("kind", kind(before, old), kind(after, new));
    let stand_in = |knowledge: &Knowledge, test: &Test| {
        let tests: Vec<&str> = test
            .stand_in
            .iter()
            .map(|other| knowledge.tests[*other].id.as_str())
            .collect();
        tests.join(", ")
    };
    differs("stand-in", stand_in(before, old), stand_in(after, new));
    let complaints = |knowledge: &Knowledge, test: &Test| {
        let trees: Vec<&str> = test
            .complaints
            .iter()
            .map(|tree| knowledge.trees[*tree].id.as_str())
            .collect();
        trees.join(", ")
    };
    differs("complaints", complaints(before, old), complaints(after, new));
    let sureness = |test: &Test| test.sureness.map(|sure| sure.to_string()).unwrap_or_default();
    differs("sureness", sureness(old), sureness(new));
    let needs = |knowledge: &Knowledge, test: &Test| {
        let facts: Vec<&str> = test
            .needs
            .iter()
            .map(|fact| knowledge.facts[*fact].id.as_str())
            .collect();
        facts.join(", ")
    };
    differs("needs", needs(before, old), needs(after, new));
    differs("looked-up", looked_up(&old.source), looked_up(&new.source));
    reworded(Sort::Test, id, words(old) != words(new), changes);
    outcomes((before, old), (after, new), changes);
}

/// What a person reads of a test, and of which equipment.
fn words(test: &Test) -> impl PartialEq {
    let outcomes = test.outcomes.iter();
    let labels = outcomes.map(|outcome| (&outcome.label, &outcome.defect, &outcome.fit));
    (
        (&test.name, &test.ask, &test.why, &test.how, &test.words),
        (&test.caution, &test.instrument, texts(&test.source)),
        labels.collect::<Vec<_>>(),
    )
}

/// What makes the outcome: the sort of test, with the unit and range or the calculation and its inputs.
fn kind(knowledge: &Knowledge, test: &Test) -> String {
    match &test.kind {
        TestKind::Look => "look".to_owned(),
        TestKind::Reading { symbol, range, .. } => {
            format!("reading in {symbol}, {} to {} in base units", range.0, range.1)
        }
        TestKind::Calculation { calculation, inputs } => {
            format!("calculation {calculation} of {}", inputs_text(knowledge, inputs))
        }
    }
}

fn outcomes(
    (before, old): (&Knowledge, &Test),
    (after, new): (&Knowledge, &Test),
    changes: &mut Vec<Change>,
) {
    let id = &new.id;
    for outcome in &old.outcomes {
        if new.outcome(&outcome.id).is_none() {
            changes.push(Change::Removed {
                sort: Sort::Outcome,
                id: format!("{id}/{}", outcome.id),
            });
        }
    }
    for outcome in &new.outcomes {
        let known = old.outcome(&outcome.id).map(|index| &old.outcomes[index]);
        let Some(known) = known else {
            changes.push(Change::Added {
                sort: Sort::Outcome,
                id: format!("{id}/{}", outcome.id),
            });
            continue;
        };
        if (known.usual - outcome.usual).abs() > 1e-9 {
            changes.push(Change::Usual {
                test: id.clone(),
                outcome: outcome.id.clone(),
                from: known.usual,
                to: outcome.usual,
            });
        }
        setting(
            Sort::Outcome,
            &format!("{id}/{}", outcome.id),
            "raises",
            &raises(before, &known.raises),
            &raises(after, &outcome.raises),
            changes,
        );
        let bound = |knowledge: &Knowledge, bound: &Option<Bound>| {
            bound.as_ref().map(|bound| bound_text(knowledge, bound))
        };
        let (from, to) = (bound(before, &known.bound), bound(after, &outcome.bound));
        if from != to {
            changes.push(Change::Bound {
                test: id.clone(),
                outcome: outcome.id.clone(),
                from,
                to,
            });
        }
        let silent = |outcome: &Outcome| outcome.says_nothing.to_string();
        setting(
            Sort::Outcome,
            &format!("{id}/{}", outcome.id),
            "says-nothing",
            &silent(known),
            &silent(outcome),
            changes,
        );
        said((before, known), (after, outcome), id, changes);
    }
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
