//! Third phase: the outcomes that answers and calculations came to.

use std::ops::Deref;

use crate::inference::Answered;
use crate::knowledge::model::{OutcomeIndex, TestIndex};

use super::answers::Answer;
use super::calculate::{Resolution, Worked, answered};

/// How many times likelier the outcome leaned to is than any other, when the person says "I think so".
///
/// About a strong sign in the table of strengths: who says so has seen something. Our choice, no source; on the invented accounts
/// that may be studied it puts the true cause first oftener than the 3 it was before (`tests/second_reader/`).
const LEANING: f64 = 8.0;

/// A violated limit or damage that a test has shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DefectFound {
    /// A look, a reading or a calculation.
    pub test: TestIndex,
    /// The outcome that is the defect.
    pub outcome: OutcomeIndex,
    /// It was seen or measured for sure; not merely thought so, nor within the meter's error of the limit.
    pub sure: bool,
}

/// What was found.
#[derive(Clone, Debug)]
pub struct Found<'k> {
    worked: Worked<'k>,
    findings: Vec<Answered>,
    /// What was found by tests that could not be checked when they were asked again.
    not_made_again: Vec<(Answered, Taken)>,
    /// What was found by answers that others have replaced since.
    earlier: Vec<(Answered, Taken)>,
}

/// How and when something was found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taken {
    /// Its place in the list of given events; 0 for what is worked out from facts alone.
    pub(super) at: usize,
    /// It was read off a meter.
    pub(super) read: bool,
}

impl<'k> Deref for Found<'k> {
    type Target = Worked<'k>;

    fn deref(&self) -> &Self::Target {
        &self.worked
    }
}

impl<'k> Found<'k> {
    /// Takes the outcomes of the tests that apply.
    pub(super) fn of(worked: Worked<'k>) -> Self {
        let findings = worked
            .knowledge
            .tests
            .indices()
            .filter(|test| worked.applies(*test))
            .filter_map(|test| match worked.resolution(test) {
                Resolution::Known(outcome) => {
                    let first = finding(&worked, test, outcome, worked.answers.get(&test));
                    // What is true together counts one beside the other, as though each had been asked by itself.
                    let also = worked
                        .also(test)
                        .iter()
                        .map(move |other| Answered::certain(test, *other));
                    Some(std::iter::once(first).chain(also))
                }
                _ => None,
            })
            .flatten()
            .collect();
        let found = |test: TestIndex, at: usize, answer: &Answer| match answered(&worked, test, Some(answer))
        {
            Resolution::Known(outcome) if worked.applies(test) => {
                let read = matches!(answer, Answer::Reading(_));
                let found = finding(&worked, test, outcome, Some(answer));
                Some((found, Taken { at, read }))
            }
            _ => None,
        };
        let not_made_again = worked.not_made_again.iter();
        let not_made_again = not_made_again
            .filter(|(test, _)| !matches!(worked.resolution(**test), Resolution::Known(_)))
            .filter_map(|(test, (at, answer))| found(*test, *at, answer))
            .collect();
        let earlier = worked.earlier.iter();
        let earlier = earlier
            .filter_map(|(test, at, answer)| found(*test, *at, answer))
            .collect();
        Self {
            worked,
            findings,
            not_made_again,
            earlier,
        }
    }

    /// The tests that have an outcome, in the order of the files; one by each of the outcomes that are true together.
    #[must_use]
    pub fn findings(&self) -> &[Answered] {
        &self.findings
    }

    /// Everything that was found; what could not be found again still counts here.
    pub(super) fn ever_found(&self) -> impl Iterator<Item = (&Answered, Taken)> {
        let now = self.findings.iter().map(|finding| {
            let at = self.found_at(finding.test).unwrap_or(0);
            let read = self.reading(finding.test).is_some();
            (finding, Taken { at, read })
        });
        let before = self
            .not_made_again
            .iter()
            .map(|(finding, taken)| (finding, *taken));
        now.chain(before)
    }

    /// What was found and then answered otherwise.
    pub(super) fn found_before(&self) -> impl Iterator<Item = (&Answered, Taken)> {
        self.earlier.iter().map(|(finding, taken)| (finding, *taken))
    }

    /// Defects found, in the order of the files.
    #[must_use]
    pub fn defects(&self) -> Vec<DefectFound> {
        self.findings
            .iter()
            .filter(|finding| {
                self.knowledge.tests[finding.test].outcomes[finding.outcome]
                    .defect
                    .is_some()
            })
            .map(|finding| DefectFound {
                test: finding.test,
                outcome: finding.outcome,
                sure: finding.certainty() >= 1.0,
            })
            .collect()
    }
}

/// The finding of a test with a known outcome: leaning, where the person was not sure or the reading is nearer to a limit
/// than the meter can tell.
fn finding(worked: &Worked<'_>, test: TestIndex, outcome: OutcomeIndex, answer: Option<&Answer>) -> Answered {
    let weights = match answer {
        Some(Answer::Leaning(leaned)) => {
            let outcomes = worked.knowledge.tests[test].outcomes.indices();
            Some(
                outcomes
                    .map(|o| if o == *leaned { LEANING } else { 1.0 })
                    .collect(),
            )
        }
        Some(Answer::Reading(quantity)) => worked.shares_of(test, *quantity),
        _ => None,
    };
    weights
        .and_then(|weights| Answered::leaning(test, weights))
        .unwrap_or_else(|| Answered::certain(test, outcome))
}
