//! What a test needs before it makes sense, and what bringing it forward costs.

use crate::inference::gain;
use crate::knowledge::model::{BoundOf, FactIndex, TestIndex};

use super::Walk;
use super::calculate::{Wanting, fact_applies, lacking};

/// What a question costs beyond its minutes, in minutes: people give up after some twenty, and so a question must tell more
/// than its short time would ask of it. Our choice, no source; on the accounts with everything told only when asked, 4 finds
/// more than 0 and no fewer than 2 or 5.
const PATIENCE_MINUTES: f64 = 4.0;

/// Facts that must be asked before a test makes sense on this equipment.
pub(super) fn needed_facts<'w>(walk: &'w Walk<'_>, test: TestIndex) -> impl Iterator<Item = FactIndex> + 'w {
    let test = &walk.knowledge.tests[test];
    test.needs
        .iter()
        .copied()
        .filter(|fact| fact_applies(walk, *fact))
}

/// Facts a reading is held against.
pub(super) fn held_against<'w>(walk: &'w Walk<'_>, test: TestIndex) -> impl Iterator<Item = FactIndex> + 'w {
    walk.knowledge.tests[test]
        .outcomes
        .iter()
        .filter_map(|outcome| match outcome.bound.as_ref()?.of? {
            BoundOf::Fact(fact) => Some(fact),
            BoundOf::Reading(_) => None,
        })
        .filter(|fact| fact_applies(walk, *fact))
}

/// Another reading that this one is held against and that was not taken yet.
pub(super) fn needed_reading(walk: &Walk<'_>, test: TestIndex) -> Option<TestIndex> {
    walk.knowledge.tests[test]
        .outcomes
        .iter()
        .find_map(|outcome| match outcome.bound.as_ref()?.of? {
            BoundOf::Reading(other) if walk.applies(other) && !walk.derived.answers.contains_key(&other) => {
                Some(other)
            }
            _ => None,
        })
}

/// Cost of bringing a test forward, with the readings a calculation still needs.
pub(super) fn cost_with_inputs(walk: &Walk<'_>, test: TestIndex) -> f64 {
    let knowledge = walk.knowledge;
    let own = PATIENCE_MINUTES + gain::cost(&knowledge.tests[test], walk.state());
    let inputs: f64 = lacking(walk, test)
        .iter()
        .map(|wanting| match wanting {
            Wanting::Fact(_) => 1.0,
            Wanting::Reading(reading) => gain::cost(&knowledge.tests[*reading], walk.state()),
        })
        .sum();
    own + inputs
}
