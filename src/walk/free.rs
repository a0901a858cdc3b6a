//! What a test takes that somebody picks freely instead of what the walk asks.

use crate::knowledge::model::{BoundOf, FactIndex, OutcomeIndex, State, TestIndex, TestKind, bound_figure};
use crate::quantity::Quantity;

use super::calculate::{Wanting, lacking};
use super::stands::Stand;
use super::{Walk, needs};

/// What a test is held against or made from and what is not known yet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Takes {
    pub facts: Vec<FactIndex>,
    pub readings: Vec<TestIndex>,
}

impl Walk<'_> {
    /// Whether a test is the proof a hold waits for, be it for the first time or anew.
    #[must_use]
    pub fn is_wanted(&self, test: TestIndex) -> bool {
        self.stands.contains(&Stand::Wants(test))
    }

    /// The state the equipment must be brought into before a test, with its cautions; nothing where it is there.
    #[must_use]
    pub fn to_prepare(&self, test: TestIndex) -> Option<State> {
        let needed = self.knowledge.tests[test].state;
        let there = self.state().is_some_and(|now| now.covers(needed));
        (needed.is_prepared() && !there).then_some(needed)
    }

    /// The outcome a reading would fall into; `of` says what its limits multiply, so that a reading nobody took can be judged.
    /// Nothing when one of them is not known.
    #[must_use]
    pub fn would_be(
        &self,
        test: TestIndex,
        reading: Quantity,
        of: &dyn Fn(BoundOf) -> Option<Quantity>,
    ) -> Option<OutcomeIndex> {
        self.classify_by(test, reading, &|bound| match bound.of {
            None => bound_figure(bound, None),
            Some(what) => bound_figure(bound, Some(of(what)?)),
        })
    }

    /// Facts and readings not known yet that a test makes sense with: what a reading is held against, what a calculation is
    /// made from.
    #[must_use]
    pub fn takes(&self, test: TestIndex) -> Takes {
        let mut takes = Takes::default();
        if let TestKind::Calculation { .. } = self.knowledge.tests[test].kind {
            for wanting in lacking(self, test) {
                match wanting {
                    Wanting::Fact(fact) if self.fact(fact).is_none() => takes.facts.push(fact),
                    Wanting::Fact(_) => {}
                    Wanting::Reading(reading) => takes.readings.push(reading),
                }
            }
            return takes;
        }
        takes.facts = needs::needed_facts(self, test)
            .chain(needs::held_against(self, test))
            .filter(|fact| self.fact(*fact).is_none())
            .collect();
        takes.readings = needs::needed_reading(self, test).into_iter().collect();
        takes
    }
}
