//! The outcome of a reading said in words, for a person who has no figure: "tested bad", "no voltage".

use crate::knowledge::model::{BoundOf, InputFrom, OutcomeIndex, Test, TestIndex, TestKind};
use crate::quantity::{Kind, Quantity};

use super::Walk;

/// Words people put before an outcome that add nothing to it.
const LEADS: [&str; 5] = ["tested ", "tests ", "measured ", "reads ", "is "];

/// What people say when the meter shows nothing at all.
const NOTHING: [&str; 10] = [
    "none",
    "nothing",
    "zero",
    "dead",
    "absent",
    "no voltage",
    "no volts",
    "no current",
    "no amps",
    "no reading",
];

impl Walk<'_> {
    /// The outcome of a reading that a text names: its id, its label, or the label up to its first comma, colon or
    /// bracket. "No voltage" and its like name the outcome that nothing at all falls into.
    ///
    /// Nothing comes back for words that fit no outcome, so that a guess is never taken for an answer.
    pub(super) fn outcome_said(&self, test: TestIndex, text: &str) -> Option<OutcomeIndex> {
        let said = words(text);
        let said = LEADS
            .iter()
            .find_map(|lead| said.strip_prefix(lead))
            .unwrap_or(&said);
        let outcomes = &self.knowledge.tests[test].outcomes;
        let by = |name: &dyn Fn(OutcomeIndex) -> String| {
            let mut places = outcomes.indices().filter(|place| name(*place) == said);
            let first = places.next()?;
            places.next().is_none().then_some(first)
        };
        by(&|place| words(&outcomes[place].id))
            .or_else(|| by(&|place| words(&outcomes[place].label)))
            .or_else(|| by(&|place| words(head(&outcomes[place].label))))
            .or_else(|| {
                NOTHING
                    .contains(&said)
                    .then(|| self.outcome_of_nothing(test))
                    .flatten()
            })
    }

    /// Only volts and amperes: "none" of a resistance could be a short as well as an open circuit.
    fn outcome_of_nothing(&self, test: TestIndex) -> Option<OutcomeIndex> {
        let TestKind::Reading { unit, .. } = self.knowledge.tests[test].kind else {
            return None;
        };
        if !matches!(unit, Kind::Voltage | Kind::Current) {
            return None;
        }
        self.classify(test, Quantity::new(unit, 0.0)?)
    }

    /// What cannot be worked out without the figure of this reading, by name.
    pub(super) fn wants_figure_of(&self, reading: TestIndex) -> Vec<&str> {
        let uses = |test: &Test| match &test.kind {
            TestKind::Calculation { inputs, .. } => inputs
                .values()
                .any(|from| matches!(from, InputFrom::Reading(input) if *input == reading)),
            _ => test.outcomes.iter().any(|outcome| {
                matches!(outcome.bound.as_ref().and_then(|bound| bound.of),
                    Some(BoundOf::Reading(other)) if other == reading)
            }),
        };
        self.knowledge
            .tests
            .indices()
            .filter(|test| self.applies(*test) && uses(&self.knowledge.tests[*test]))
            .map(|test| self.knowledge.tests[test].name.as_str())
            .collect()
    }

    /// The reading without a figure that this one is held against, or the fact not found, by name.
    pub(super) fn held_against(&self, reading: TestIndex) -> Option<&str> {
        self.knowledge.tests[reading]
            .outcomes
            .iter()
            .filter_map(|outcome| outcome.bound.as_ref()?.of)
            .find_map(|of| match of {
                BoundOf::Reading(other) if self.reading(other).is_none() => {
                    Some(self.knowledge.tests[other].name.as_str())
                }
                BoundOf::Fact(fact) if self.fact(fact).flatten().is_none() => {
                    Some(self.knowledge.facts[fact].name.as_str())
                }
                _ => None,
            })
    }
}

/// The words by which each outcome of a test can be said, as a person would type them.
#[must_use]
pub fn sayings(test: &Test) -> Vec<String> {
    test.outcomes.iter().map(|outcome| words(&outcome.id)).collect()
}

/// A label without what stands behind its first comma, colon, semicolon or bracket.
fn head(label: &str) -> &str {
    label.split([',', ':', ';', '(']).next().unwrap_or(label)
}

/// Text in one spelling: small letters, hyphens as spaces, single spaces, no full stop at its end.
fn words(text: &str) -> String {
    text.to_lowercase()
        .replace(['-', '_'], " ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .trim_end_matches('.')
        .to_owned()
}
