//! What is passed by, since it cannot be made or waits until it would decide.

use crate::inference::stop::TOLD_FIRST;
use crate::knowledge::model::{EffectIndex, Outcome, State, TestIndex};

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
        let lacks = |able: &Vec<Ability>| Ability::all_of(known).any(|needs| !able.contains(&needs));
        (known.state != State::Told && pace.left.contains(&test)) || pace.able.as_ref().is_some_and(lacks)
    }

    /// Whether a told thing asks only what was told before in other words: weather after what brings it on, and the like. One
    /// that finds a cause by itself still tells something.
    pub(super) fn is_told_already(&self, test: TestIndex) -> bool {
        let tests = &self.knowledge.tests;
        let shows =
            |outcome: &Outcome, effect: EffectIndex| outcome.shows.iter().any(|it| it.effect == effect);
        let told = |effect: EffectIndex| {
            self.answers.iter().any(|(of, answer)| match answer {
                Answer::Outcome(outcome) => {
                    tests[*of].state == State::Told && shows(&tests[*of].outcomes[*outcome], effect)
                }
                _ => false,
            })
        };
        let known = &tests[test];
        let mut shown = known
            .outcomes
            .iter()
            .flat_map(|outcome| &outcome.shows)
            .peekable();
        known.state == State::Told
            && !self.pace.taken.contains(&test)
            && shown.peek().is_some()
            && shown.all(|it| told(it.effect))
            && known.outcomes.iter().all(|outcome| outcome.finds.is_empty())
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
