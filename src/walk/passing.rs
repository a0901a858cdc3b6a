//! What is passed by, since it cannot be made or waits until it would decide.

use crate::inference::stop::TOLD_FIRST;
use crate::knowledge::model::{State, TestIndex};

use super::Ability;
use super::answers::{Answer, Answers};

impl Answers<'_> {
    /// Whether a test was asked or offered and could not be made, or cannot be by what the person said.
    #[must_use]
    pub fn was_passed_by(&self, test: TestIndex) -> bool {
        let answer = self.answers.get(&test);
        matches!(answer, Some(Answer::CouldNotCheck)) || self.is_unable(test)
    }

    /// Whether the person said that a test cannot be made now.
    pub(super) fn is_unable(&self, test: TestIndex) -> bool {
        let pace = &self.pace;
        let known = &self.knowledge.tests[test];
        let needs = Ability::of(known);
        (known.state != State::Told && pace.left.contains(&test))
            || matches!((&pace.able, needs), (Some(able), Some(needs)) if !able.contains(&needs))
    }

    /// Whether a told thing waits until it would decide: it was offered and left open, or enough was told before hands and
    /// eyes.
    pub(super) fn is_told_enough(&self, test: TestIndex) -> bool {
        let pace = &self.pace;
        self.knowledge.tests[test].state == State::Told
            && pace.account
            && !pace.taken.contains(&test)
            && (pace.told >= TOLD_FIRST || pace.left.contains(&test))
    }
}
