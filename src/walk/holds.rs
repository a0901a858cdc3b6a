//! Holds: dangers that keep tests from being made until they are cleared, whatever a tree says.
//!
//! A hold is up when it holds from the start, or when an answer or the complaint raised it; it is cleared when each of
//! its proofs came out well. Where it says so they must have done *after* it was last raised: a second burnt part found
//! later asks again whether all is repaired. An answer the person is not sure of raises a hold, but clears none.

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Hold, HoldIndex, OutcomeIndex, TestIndex};

use super::calculate::{Wanting, lacking};
use super::state::Stand;
use super::{Resolution, Walk};

/// Share of an answer that must fall on clearing outcomes, when a reading lies near a limit. Our choice, no source.
const SURELY: f64 = 0.95;

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
    /// The hold.
    pub hold: HoldIndex,
    /// The proof that comes first; nothing where nothing that can be asked would clear it.
    pub first: Option<TestIndex>,
}

impl Walk<'_> {
    /// The holds that are up and were met: raised by an answer or the complaint, or with a proof that failed. One that
    /// holds from the start and whose proof was not asked yet is not among them.
    #[must_use]
    pub fn holds(&self) -> Vec<&Hold> {
        let knowledge = self.knowledge;
        let met = |index: HoldIndex| match self.derived.stands[index] {
            Stand::Down => false,
            Stand::Up => true,
            Stand::Wants(_) => self.raised_at(index).is_some(),
        };
        knowledge
            .holds
            .indexed()
            .filter(|(index, _)| self.equipment().is_some() && met(*index))
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

    /// Whether a proof was not given, or before the hold was raised where it must be given anew.
    fn is_stale(&self, hold: &Hold, proof: TestIndex, raised: Option<usize>) -> bool {
        let given_before = self.answered_at(proof).is_some_and(|at| Some(at) < raised);
        self.resolution(proof) == Resolution::Open || (hold.proved_anew && given_before)
    }

    /// Holds that end the walk for safety and are up, each with the proof that would still clear it.
    pub(super) fn ending_holds(&self) -> Vec<(HoldIndex, Option<TestIndex>)> {
        let holds = self.knowledge.holds.indexed();
        holds
            .filter(|(index, hold)| hold.call.is_some() && self.raised_at(*index).is_some())
            .filter_map(|(index, _)| match self.derived.stands[index] {
                Stand::Down => None,
                Stand::Up => Some((index, None)),
                Stand::Wants(proof) => Some((index, Some(proof))),
            })
            .collect()
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

    /// How every hold stands, in the order of the files.
    pub(super) fn all_stands(&self) -> Indexed<HoldIndex, Stand> {
        self.knowledge
            .holds
            .indices()
            .map(|index| self.stand(index))
            .collect()
    }

    fn stand(&self, index: HoldIndex) -> Stand {
        let hold = &self.knowledge.holds[index];
        if !self.installation().is_some_and(|own| hold.applies_to(own)) {
            return Stand::Down;
        }
        let raised = self.raised_at(index);
        if raised.is_none() && !hold.from_start {
            return Stand::Down;
        }
        let proofs = || hold.cleared_by.iter().filter(|(test, _)| self.applies(*test));
        if proofs().next().is_none() {
            return Stand::Up;
        }
        let mut open = None;
        for (test, outcomes) in proofs() {
            if self.is_stale(hold, *test, raised) {
                open = open.or(Some(*test));
            } else if !self.is_surely(*test, outcomes) {
                return Stand::Up;
            }
        }
        open.map_or(Stand::Down, Stand::Wants)
    }

    /// Place in the list of given events at which the hold was last raised; 0 for the complaint and for what is
    /// calculated, which has no place of its own.
    fn raised_at(&self, index: HoldIndex) -> Option<usize> {
        let knowledge = self.knowledge;
        let complaint = self
            .complaint()
            .filter(|tree| knowledge.trees[*tree].raises.contains(&index))
            .map(|_| 0);
        let answers = self
            .findings()
            .iter()
            .filter(|finding| {
                let outcomes = &knowledge.tests[finding.test].outcomes;
                let raises = |outcome: &OutcomeIndex| outcomes[*outcome].raises.contains(&index);
                raises(&finding.outcome)
                    // A reading this near to a limit is taken for the worse side of it.
                    || (self.reading(finding.test).is_some()
                        && outcomes.indices().filter(raises).map(|o| finding.share(o)).sum::<f64>() > 1.0 - SURELY)
            })
            .map(|finding| self.answered_at(finding.test).unwrap_or(0));
        complaint.into_iter().chain(answers).max()
    }

    fn is_surely(&self, test: TestIndex, outcomes: &[OutcomeIndex]) -> bool {
        self.findings()
            .iter()
            .find(|finding| finding.test == test)
            .is_some_and(|finding| outcomes.iter().map(|o| finding.share(*o)).sum::<f64>() >= SURELY)
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
                .filter(|(_, hold)| hold.stops.contains(&known.state) || hold.stops_tests.contains(&test))
                .map(|(index, _)| (index, self.derived.stands[index]))
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
pub(super) fn is_proved_safe(walk: &Walk<'_>) -> bool {
    walk.knowledge
        .tests
        .indexed()
        .filter(|(index, test)| test.safety && walk.applies(*index))
        .any(|(index, _)| walk.derived.answers.contains_key(&index))
}
