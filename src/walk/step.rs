//! Fifth phase: what to ask now, and what would still be worth asking.

use std::ops::Deref;

use crate::inference::choice::Candidate;
use crate::inference::learn::Counts;
use crate::inference::stop;
use crate::knowledge::model::{Knowledge, TestIndex};

use super::answers::Answers;
use super::calculate::{Resolution, Worked};
use super::found::Found;
use super::holds::Leave;
use super::posterior::Posterior;
use super::{Event, Question, route, worth};

/// Everything that follows from the given events. Each phase is made from the one before and knows all of it.
#[derive(Clone, Debug)]
pub struct Step<'k> {
    posterior: Posterior<'k>,
    question: Question,
    /// Tests of the nodes passed so far, sorted.
    passed: Vec<TestIndex>,
}

impl<'k> Deref for Step<'k> {
    type Target = Posterior<'k>;

    fn deref(&self) -> &Self::Target {
        &self.posterior
    }
}

impl<'k> Step<'k> {
    /// Works out what follows: answers, what they make calculable, what is found, how the causes stand, what to ask.
    pub(super) fn of(
        knowledge: &'k Knowledge,
        entries: &[Event],
        counts: Option<&Counts>,
        earlier: Option<&Self>,
    ) -> Self {
        let found = Found::of(Worked::of(Answers::of(knowledge, entries)));
        let posterior = Posterior::of(found, counts, earlier.map(|earlier| &earlier.posterior));
        let (question, passed) = route::question(&posterior);
        Self {
            posterior,
            question,
            passed,
        }
    }

    /// What to ask now.
    #[must_use]
    pub fn question(&self) -> &Question {
        &self.question
    }

    /// Tests of the nodes passed so far, sorted.
    #[must_use]
    pub fn passed(&self) -> &[TestIndex] {
        &self.passed
    }

    /// Why it is time to conclude, over every test worth coming back to; nothing while a test is worth making.
    #[must_use]
    pub fn stop_reason(&self) -> Option<stop::Reason> {
        let position = self.position()?;
        let pace = &self.pace;
        let marked = || route::taken(self).is_some();
        if pace.is_over() && !stop::is_settled(position.standing) && !marked() {
            return Some(if pace.exhausted {
                stop::Reason::NothingCanBeMade
            } else {
                stop::Reason::LongEnough
            });
        }
        position.stop_reason(position.best(&self.candidates()))
    }

    /// Tests worth coming back to, from the one that tells most for its cost: those of the nodes passed, without an
    /// outcome so far, whether never reached or only not checkable today.
    ///
    /// Where the tree has kept the walk off energized tests, none is among them; nor after a stop for safety.
    #[must_use]
    pub fn candidates(&self) -> Vec<Candidate> {
        let halted = matches!(self.question, Question::Halt { .. });
        let open =
            |test: &TestIndex| self.applies(*test) && !matches!(self.resolution(*test), Resolution::Known(_));
        // What cannot be made now is still what would tell.
        let passed = self.passed.iter().copied().filter(open);
        let mut candidates = worth::ranked(self, passed);
        // In the walk a hold's proof is asked first; in what is advised, a test that waits for one has no place.
        // Who has to call somebody first opens nothing either: the lock may not make it dead.
        let called = self.ending_hold().is_some();
        candidates.retain(|candidate| {
            let too_far = if called {
                candidate.state.is_prepared()
            } else {
                halted && candidate.state.is_powered()
            };
            self.leave(candidate.test) == Leave::Free && !too_far
        });
        candidates
    }
}
