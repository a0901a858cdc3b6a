//! Holds: dangers that keep tests from being made until they are cleared, whatever a tree says.
//!
//! A hold is up when it holds from the start, or when an answer or the complaint raised it; it is cleared when each of
//! its proofs came out well. Where it says so they must have done *after* it was last raised: a second burnt part found
//! later asks again whether all is repaired. An answer the person is not sure of raises a hold, but clears none; nor does it
//! fall because its test could not be made a second time. A hold that must be proved anew does not fall either because what
//! raised it was answered otherwise: the air is clear next morning because the burner was off.

use crate::knowledge::model::{Hold, HoldIndex, OutcomeIndex, State, TestIndex};

use super::Event;
use super::answers::Answers;
use super::calculate::{Wanting, lacking};
use super::posterior::Posterior;
use super::stands::Stand;

/// Whether the holds let a test be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Leave {
    /// Nothing is against it.
    Free,
    /// This proof comes first, for this hold.
    After(TestIndex, HoldIndex),
    /// It is not made.
    Barred,
}

/// A hold keeps a test from being made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stopped {
    /// The first that nothing clears for now, else the first whose proof can be asked.
    pub hold: HoldIndex,
    /// The proof that comes first; nothing where nothing that can be asked would clear it.
    pub first: Option<TestIndex>,
}

impl Posterior<'_> {
    /// The holds that are up and were met: raised by an answer or the complaint, or with a proof that failed. One that
    /// holds from the start and whose proof was not asked yet is not among them.
    #[must_use]
    pub fn holds(&self) -> Vec<&Hold> {
        let knowledge = self.knowledge;
        let met = |index: HoldIndex| match self.stands[index] {
            Stand::Down => false,
            Stand::Up => true,
            // What each visit asks for was not met by being asked for.
            Stand::Wants(_) => self.raised_at(index).is_some() && !self.knowledge.holds[index].each_visit,
        };
        knowledge
            .holds
            .indexed()
            .filter(|(index, _)| self.equipment().is_some() && met(*index))
            .map(|(_, hold)| hold)
            .collect()
    }

    /// The holds that are up because of something that was told, seen or read. One that holds from the start is among them
    /// where its proof came out badly, and not only was left unchecked, and what came out raises no hold of its own.
    #[must_use]
    pub fn dangers(&self) -> Vec<&Hold> {
        let bare = |test: TestIndex| {
            let mut findings = self.findings().iter().filter(|finding| finding.test == test);
            findings.any(|finding| {
                self.knowledge.tests[test].outcomes[finding.outcome]
                    .raises
                    .is_empty()
            })
        };
        let failed = |hold: &Hold| {
            let mut proofs = hold.cleared_by.iter();
            proofs.any(|(test, outcomes)| bare(*test) && !self.is_surely(*test, outcomes))
        };
        let mut dangers = self.holds();
        dangers.retain(|hold| !hold.from_start || failed(hold));
        dangers
    }

    /// What raised a hold, to be left standing for the case after this one.
    #[must_use]
    pub fn left_by(&self, hold: &Hold) -> Vec<Event> {
        let left = self.raised(hold).into_iter().map(|(test, outcome, _)| {
            let test = &self.knowledge.tests[test];
            Event::LeftStanding {
                test: test.id.clone(),
                outcome: test.outcomes[outcome].id.clone(),
            }
        });
        left.collect()
    }

    /// Whether answers raised a hold, and all of them were given from this place on.
    pub(super) fn is_raised_from(&self, hold: &Hold, place: usize) -> bool {
        let raised = self.raised(hold);
        !raised.is_empty() && raised.iter().all(|(_, _, at)| *at >= place)
    }

    fn raised(&self, hold: &Hold) -> Vec<(TestIndex, OutcomeIndex, usize)> {
        let holds = self.knowledge.holds.indexed();
        let same = holds.filter(|(_, known)| known.id == hold.id);
        same.flat_map(|(index, _)| self.raised_by(index)).collect()
    }

    /// The holds that keep the equipment from running from the start and that nobody has cleared, asked about or not.
    #[must_use]
    pub fn not_looked_at(&self) -> Vec<&Hold> {
        let runs = |hold: &Hold| hold.stops.contains(&State::Running);
        self.knowledge
            .holds
            .indexed()
            .filter(|(index, hold)| hold.from_start && runs(hold) && self.stands[*index] != Stand::Down)
            .map(|(_, hold)| hold)
            .collect()
    }

    /// How many proofs of a hold that is up were given since it was raised.
    #[must_use]
    pub fn proofs_given(&self, index: HoldIndex) -> usize {
        let raised = self.raised_at(index);
        let hold = &self.knowledge.holds[index];
        hold.cleared_by
            .iter()
            .filter(|(test, _)| self.applies(*test) && !self.is_stale(hold, *test, raised))
            .count()
    }

    /// Holds that end the walk for safety and are up, each with the proof that would still clear it.
    pub(super) fn ending_holds(&self) -> Vec<(HoldIndex, Option<TestIndex>)> {
        let holds = self.knowledge.holds.indexed();
        holds
            .filter(|(index, hold)| hold.call.is_some() && self.raised_at(*index).is_some())
            .filter_map(|(index, _)| match self.stands[index] {
                Stand::Down => None,
                Stand::Up => Some((index, None)),
                Stand::Wants(proof) => Some((index, Some(proof).filter(|_| self.is_time_for_proofs(index)))),
            })
            .collect()
    }

    /// Whether it is time to ask what clears a hold that ends the walk. Whoever must leave first is not asked about it.
    fn is_time_for_proofs(&self, index: HoldIndex) -> bool {
        let came_again = || {
            let raised = self.raised_at(index);
            self.visited > raised || self.left >= raised
        };
        !self.knowledge.holds[index].later || came_again() || self.proofs_given(index) > 0
    }

    /// What will clear the hold that ends the walk; nothing where none does, or nothing can.
    #[must_use]
    pub fn clears_later(&self) -> Option<TestIndex> {
        let (index, _) = *self.ending_holds().first()?;
        let hold = &self.knowledge.holds[index];
        let raised = self.raised_at(index);
        let proofs = hold.cleared_by.iter().filter(|(test, _)| self.applies(*test));
        let mut open = proofs.filter(|(test, outcomes)| {
            self.is_stale(hold, *test, raised) || !self.is_surely(*test, outcomes)
        });
        open.next().map(|(test, _)| *test)
    }

    /// The looks for hazards that a remark asks for: it says one of their words. A remark moves nothing by itself, and must not be
    /// where a danger is put away.
    #[must_use]
    pub fn looks_noted(&self, note: &str) -> Vec<TestIndex> {
        let knowledge = self.knowledge;
        let note = note.to_lowercase();
        let looks = knowledge
            .holds
            .iter()
            .filter(|hold| hold.each_visit || hold.noted);
        let looks = looks.flat_map(|hold| hold.cleared_by.iter().map(|(look, _)| *look));
        let named = |look: &TestIndex| {
            knowledge.tests[*look]
                .words
                .iter()
                .any(|word| note.contains(word.as_str()))
        };
        let mut named: Vec<TestIndex> = looks.filter(|look| self.applies(*look) && named(look)).collect();
        named.dedup();
        named
    }

    /// The hold that ends the walk for safety while it is up; nothing where none is.
    #[must_use]
    pub fn ending_hold(&self) -> Option<HoldIndex> {
        self.ending_holds().first().map(|(hold, _)| *hold)
    }

    /// Whether the holds let a test be made now; the readings a calculation lacks count with it.
    pub(super) fn leave(&self, test: TestIndex) -> Leave {
        let own = self.leave_alone(test);
        let inputs = lacking(self, test);
        inputs.iter().fold(own, |worst, wanting| match (worst, wanting) {
            (Leave::Barred, _) | (_, Wanting::Fact(_)) => worst,
            (worst, Wanting::Reading(reading)) => match self.leave_alone(*reading) {
                Leave::Free => worst,
                other => other,
            },
        })
    }

    /// Whether nothing keeps a test from being made but what each visit looks at first.
    pub(super) fn is_free_after_the_visits_looks(&self, test: TestIndex) -> bool {
        match self.leave(test) {
            Leave::Free => true,
            Leave::After(_, hold) => self.knowledge.holds[hold].each_visit,
            Leave::Barred => false,
        }
    }

    fn leave_alone(&self, test: TestIndex) -> Leave {
        match self.stopped(test) {
            None => Leave::Free,
            Some(Stopped {
                hold,
                first: Some(proof),
            }) => Leave::After(proof, hold),
            Some(_) => Leave::Barred,
        }
    }

    /// The hold that keeps a test from being made now, the one nothing clears before one that a proof would clear; nothing
    /// where it may be made.
    #[must_use]
    pub fn stopped(&self, test: TestIndex) -> Option<Stopped> {
        let known = &self.knowledge.tests[test];
        let standing = || {
            self.knowledge
                .holds
                .indexed()
                .filter(|(_, hold)| hold.keeps_from(test, known))
                .map(|(index, _)| (index, self.stands[index]))
        };
        let barred = standing().find(|(_, stand)| *stand == Stand::Up);
        if let Some((hold, _)) = barred {
            return Some(Stopped { hold, first: None });
        }
        standing().find_map(|(hold, stand)| match stand {
            Stand::Wants(proof) => Some(Stopped {
                hold,
                first: Some(proof),
            }),
            _ => None,
        })
    }
}

/// Whether a safety look that applies has been answered. What follows from a bad answer is for the tree.
pub(super) fn is_proved_safe(given: &Answers<'_>) -> bool {
    given
        .knowledge
        .tests
        .indexed()
        .filter(|(index, test)| test.safety && given.applies(*index))
        .any(|(index, _)| given.answers.contains_key(&index))
}
