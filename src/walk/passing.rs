//! What is passed by, since it cannot be made or waits until it would decide.

use crate::knowledge::model::{State, TestIndex};

use super::state::Answer;
use super::{Ability, Walk};

/// Told questions after those offered at the start, before hands and eyes. Our choice, no source.
const TOLD_FIRST: usize = 5;

impl Walk<'_> {
    /// Whether a test was asked or offered and could not be made, or cannot be by what the person said.
    #[must_use]
    pub fn was_passed_by(&self, test: TestIndex) -> bool {
        let answer = self.derived.answers.get(&test);
        matches!(answer, Some(Answer::CouldNotCheck)) || self.is_unable(test)
    }

    /// Whether the person said that a test cannot be made now.
    pub(super) fn is_unable(&self, test: TestIndex) -> bool {
        let pace = &self.derived.pace;
        let known = &self.knowledge.tests[test];
        let needs = Ability::of(known);
        (known.state != State::Told && pace.left.contains(&test))
            || matches!((&pace.able, needs), (Some(able), Some(needs)) if !able.contains(&needs))
    }

    /// Whether a told thing waits until it would decide: it was offered and left open, or enough was told before hands and
    /// eyes.
    pub(super) fn is_told_enough(&self, test: TestIndex) -> bool {
        let pace = &self.derived.pace;
        self.knowledge.tests[test].state == State::Told
            && pace.account
            && !pace.taken.contains(&test)
            && (pace.told >= TOLD_FIRST || pace.left.contains(&test))
    }
}
