//! How far the walk has come: what was asked, and what the person said can be told or made.

use crate::inference::stop::MOST_QUESTIONS;
use crate::knowledge::model::{Knowledge, State, TestIndex};

use super::{Ability, Event, Given};

/// Questions more each time the person goes on.
const FURTHER: usize = 10;

/// So many in a row that could not be checked, and the walk asks what can be done; fewer once it has. Our choice, no source.
const IN_A_ROW: usize = 2;
const IN_A_ROW_AGAIN: usize = 1;

/// Offers in a row of which nothing can be told or made, and the walk concludes. Of 230 accounts 1 and 2 that a walk
/// without an end finds, first and in three, are lost at three, none and 1 at four, for one question more in the longest
/// tenth. Our choice, no source.
const IN_VAIN: usize = 4;

/// How far the walk has come.
#[derive(Clone, Debug, Default)]
pub(super) struct Pace {
    /// What was asked, offers among it.
    pub(super) asked: usize,
    /// How much it goes on to by itself.
    pub(super) most: usize,
    /// What may be known from the start was offered.
    pub(super) account: bool,
    /// Offered and not taken.
    pub(super) left: Vec<TestIndex>,
    /// Taken, in the order offered, answered or not.
    pub(super) taken: Vec<TestIndex>,
    /// The kinds of tests the person can make; nothing while that was not asked.
    pub(super) able: Option<Vec<Ability>>,
    /// It is time to ask what can be done.
    pub(super) stuck: bool,
    /// At the end the facts that the repair is sized by are asked.
    pub(super) sizing: bool,
    /// Of the last things offered none could be told or made.
    pub(super) exhausted: bool,
    /// The person went on where the walk concluded, and no test was answered since.
    pub(super) further: bool,
    /// Told things asked besides those taken.
    pub(super) told: usize,
    /// The test whose cautions were accepted, until something was answered.
    pub(super) agreed: Option<TestIndex>,
}

impl Pace {
    /// How far the walk of these events has come.
    pub(super) fn of(knowledge: &Knowledge, entries: &[Event]) -> Self {
        let mut pace = Self {
            most: MOST_QUESTIONS,
            ..Self::default()
        };
        let mut in_a_row = 0;
        let mut in_vain = 0;
        let mut enough = IN_A_ROW;
        for entry in entries {
            if matches!(entry, Event::Answer { .. }) {
                pace.agreed = None;
            }
            match entry {
                Event::Offered { tests, taken } => {
                    let of = |ids: &[String]| -> Vec<TestIndex> {
                        ids.iter().filter_map(|id| knowledge.test(id)).collect()
                    };
                    let taken = of(taken);
                    in_vain = if pace.account && taken.is_empty() {
                        in_vain + 1
                    } else {
                        0
                    };
                    pace.exhausted = in_vain >= IN_VAIN;
                    pace.account = true;
                    pace.asked += 1;
                    pace.left
                        .extend(of(tests).into_iter().filter(|test| !taken.contains(test)));
                    pace.taken.extend(taken);
                    in_a_row = if in_vain > 0 { enough } else { 0 };
                }
                Event::Able { to } => {
                    pace.exhausted = to.is_empty();
                    pace.able = Some(to.clone());
                    pace.asked += 1;
                    in_a_row = 0;
                    enough = IN_A_ROW_AGAIN;
                }
                Event::Acknowledged { test, .. } => {
                    pace.agreed = test.as_ref().and_then(|test| knowledge.test(test));
                }
                Event::Sizing => pace.sizing = true,
                Event::Further => {
                    pace.further = true;
                    pace.most = pace.asked + FURTHER;
                    pace.exhausted = false;
                    in_vain = 0;
                }
                // Facts given before anything was asked come from a file of answers.
                Event::Fact { value, .. } if pace.asked > 0 => {
                    pace.asked += 1;
                    in_a_row = if value.is_none() { in_a_row + 1 } else { 0 };
                }
                Event::Answer {
                    test,
                    given,
                    volunteered: false,
                    ..
                } => {
                    pace.asked += 1;
                    pace.further = false;
                    let test = knowledge.test(test);
                    in_a_row = match given {
                        // The trouble is not there now: it will not be for the next such test either.
                        Given::CouldNotCheck
                            if pace.able.is_none()
                                && test.is_some_and(|test| knowledge.tests[test].while_it_fails) =>
                        {
                            enough
                        }
                        Given::CouldNotCheck => in_a_row + 1,
                        _ => 0,
                    };
                    let told = test.is_some_and(|test| {
                        knowledge.tests[test].state == State::Told && !pace.taken.contains(&test)
                    });
                    pace.told += usize::from(told);
                }
                _ => {}
            }
        }
        pace.stuck = in_a_row >= enough;
        pace
    }

    /// Whether so much was asked, or so little can be done, that it is time to conclude.
    pub(super) fn is_over(&self) -> bool {
        self.asked >= self.most || self.exhausted
    }
}
