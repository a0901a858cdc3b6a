//! What a test needs before it makes sense, and what bringing it forward costs.

use crate::inference::price::Priced;
use crate::knowledge::model::{BoundOf, FactIndex, InputFrom, TestIndex};

use super::answers::Answers;
use super::calculate::{Wanting, fact_applies, lacking};
use super::posterior::Posterior;

/// Facts that must be asked before a test makes sense on this equipment.
pub(super) fn needed_facts<'w>(
    given: &'w Answers<'_>,
    test: TestIndex,
) -> impl Iterator<Item = FactIndex> + 'w {
    let test = &given.knowledge.tests[test];
    test.needs
        .iter()
        .copied()
        .filter(|fact| fact_applies(given, *fact))
}

/// Facts a reading is held against.
pub(super) fn held_against<'w>(
    given: &'w Answers<'_>,
    test: TestIndex,
) -> impl Iterator<Item = FactIndex> + 'w {
    let facts = given.knowledge.tests[test].bound_facts();
    facts.filter(|fact| fact_applies(given, *fact))
}

/// Another reading that this one is held against and that was not taken yet.
pub(super) fn needed_reading(given: &Answers<'_>, test: TestIndex) -> Option<TestIndex> {
    given.knowledge.tests[test]
        .outcomes
        .iter()
        .find_map(|outcome| match outcome.bound.as_ref()?.of? {
            BoundOf::Reading(other) if given.applies(other) && !given.answers.contains_key(&other) => {
                Some(other)
            }
            _ => None,
        })
}

/// What bringing a test forward takes, with what a calculation still lacks.
pub(super) fn priced(given: &Answers<'_>, test: TestIndex) -> Priced {
    let tests = &given.knowledge.tests;
    lacking(given, test).iter().fold(
        Priced::alone(test, &tests[test]),
        |price, wanting| match wanting {
            Wanting::Fact(_) => price.and_fact(),
            Wanting::Reading(reading) => price.and_reading(&tests[*reading]),
        },
    )
}

impl Posterior<'_> {
    /// Facts not asked yet that the repair of the leading cause, or any repair after this complaint, is sized by: what the
    /// requirements wait for, each once.
    #[must_use]
    pub fn sizing_facts(&self) -> Vec<FactIndex> {
        let knowledge = self.knowledge;
        let (Some(complaint), Some(own)) = (self.complaint(), self.installation()) else {
            return Vec::new();
        };
        let leader = self
            .standing()
            .and_then(|standing| standing.ranked().first().copied());
        let by_cause = leader.map_or(&[][..], |(cause, _)| &knowledge.causes[cause].requires);
        let mut facts = Vec::new();
        for requirement in by_cause.iter().chain(&knowledge.trees[complaint].requires) {
            let requirement = &knowledge.requirements[*requirement];
            if !requirement.applies_to(own) {
                continue;
            }
            for from in requirement.inputs.values() {
                if let InputFrom::Fact(fact) = from
                    && self.fact(*fact).is_none()
                    && fact_applies(self, *fact)
                    && !facts.contains(fact)
                {
                    facts.push(*fact);
                }
            }
        }
        facts
    }
}
