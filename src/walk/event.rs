//! What happens in a walk, as data. Screen, journal and report all consume these.
//!
//! *Given* events come from the person (or answer file, or rig) and alone make the state: replaying them in
//! order gives the same walk. *Derived* events follow from them and are kept for whoever reads a journal. Given events
//! of the *record* (visits, place, photographs, repair, proof, closing) move no question and no cause; they tell who
//! came when, and what was done about what was found.

use std::borrow::Borrow;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::knowledge::model::State;
use crate::quantity::{Quantity, Value};

use super::able::Ability;

/// An answer to a test, as given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// One of the test's outcomes, by id.
    Outcome(String),
    /// Several of the test's outcomes that are true together, by id: two at least.
    Outcomes(Vec<String>),
    /// One of the test's outcomes, by id, that the person thinks true without being sure.
    Leaning(String),
    /// A reading.
    Reading(Quantity),
    /// It could not be checked. Moves nothing.
    CouldNotCheck,
}

/// A cause and its probability at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Share {
    /// Id of the cause.
    pub cause: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
}

/// A danger that stood when a case was closed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Stood {
    /// Id of the hold.
    pub hold: String,
    /// What cleared it, in the person's words; nothing when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cleared: Option<String>,
}

/// What proved a repair.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Proof {
    /// A reading or a look was repeated and is right now.
    Recheck {
        /// What was read, in the person's words, figure and unit included.
        reading: String,
    },
    /// It ran without the trouble for as long as `clean-run` asks.
    CleanRun {
        /// Hours it ran, above 0.
        ran: f64,
        /// Hours that were needed, above 0.
        needed: f64,
        /// Usual hours between two failures before the repair, above 0.
        between: f64,
    },
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Event {
    /// Given: the complaint, a tree's id.
    Complaint {
        /// Id of the tree.
        complaint: String,
    },
    /// Given: the equipment.
    Equipment {
        /// Its id.
        equipment: String,
    },
    /// Given: what is fitted to the equipment besides.
    Accessories {
        /// Their ids; nothing when it is not known, and then all that can be fitted are considered.
        fitted: Option<Vec<String>>,
    },
    /// Given: several tests were offered at once, those that tell most: which can be told or made.
    Offered {
        /// Ids of all of them.
        tests: Vec<String>,
        /// Ids of those that the person can tell or make; the others stay open.
        taken: Vec<String>,
    },
    /// Given: what the person can do now, after several things in a row could not be checked.
    Able {
        /// The kinds of tests that can be made.
        to: Vec<Ability>,
    },
    /// Given: the person goes on though it was time to conclude.
    Further,
    /// Given: the person tells, at the end, the facts that the repair is sized by.
    Sizing,
    /// Given: a fact, for the first time or corrected.
    Fact {
        /// Its id.
        fact: String,
        /// Its value; nothing when it could not be found.
        value: Option<Value>,
        /// What was typed or picked.
        typed: String,
    },
    /// Given: the answer to a test, asked or volunteered, for the first time or corrected.
    Answer {
        /// Id of the test.
        test: String,
        /// The answer.
        given: Given,
        /// The person offered it unasked.
        volunteered: bool,
        /// What was typed or picked.
        typed: String,
    },
    /// Given: the cautions for this state of the equipment were read and accepted.
    Acknowledged {
        /// The state they are for.
        state: State,
        /// Id of the test they stood before; nothing in a case of an earlier program.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        test: Option<String>,
    },
    /// Given: a remark in the person's own words.
    Note {
        /// The remark.
        text: String,
    },
    /// Given: the last steps were taken back.
    Undone {
        /// How many.
        steps: usize,
    },
    /// Given: the person stopped; the case can be continued.
    Stopped,
    /// Given: the person accepted the end of the walk.
    Finished,
    /// Given, of the record: somebody came, the first time or again, or another program or other knowledge took the
    /// case up. The lines up to the next visit were worked out by this program from this knowledge.
    Visit {
        /// Who, in free words; nothing when it was not said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        technician: Option<String>,
        /// Version of the program.
        program: String,
        /// Fingerprint of the knowledge.
        knowledge: String,
        /// SHA-256 of the learned frequencies the standing was worked out with; nothing when there were none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        learned: Option<String>,
    },
    /// Given, of the record: where the equipment is, for the first time or corrected. What is left out stays as it was.
    Site {
        /// The place, in free words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<String>,
        /// Which unit there, in free words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<String>,
    },
    /// Given, of the record: the trouble came back after an earlier case was closed.
    Callback {
        /// Id of the earlier case.
        case: String,
        /// Head of its chain as it stood then; nothing when it had none, and in an anonymous copy.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        head: Option<String>,
    },
    /// Given: a danger was left standing when the case before was closed, by this outcome. It stands until it is proved gone here,
    /// and tells of no cause.
    LeftStanding {
        /// Id of the test.
        test: String,
        /// Id of the outcome that raised it.
        outcome: String,
    },
    /// Given, of the record: a photograph belongs to the case. The picture stays where it is.
    Photograph {
        /// Where it is: from the folder of the case file, or from the root.
        path: String,
        /// SHA-256 of its bytes, 64 hexadecimal digits.
        sha256: String,
        /// What it shows, in free words.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        shows: Option<String>,
    },
    /// Given, of the record: something was repaired or replaced.
    Repaired {
        /// What was done, in the person's words.
        text: String,
        /// By whom, in free words; nothing when it was not said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        by: Option<String>,
    },
    /// Given, of the record: the repair was proved.
    Proved {
        /// By what.
        by: Proof,
    },
    /// Given, of the record: what was found in the end.
    Closed {
        /// Id of the cause; nothing when the knowledge does not list it.
        cause: Option<String>,
        /// What it was, in the person's words, where the knowledge does not list it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        not_listed: Option<String>,
        /// It was proved, and no danger stood that nobody said was cleared; otherwise it is a guess.
        proved: bool,
        /// What proved it or what was done, in the person's words.
        text: String,
        /// Dangers that stood by the answers, each with what was said to have cleared it.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        standing: Vec<Stood>,
    },
    /// Derived: a calculation was made, or made again with another result.
    Calculated {
        /// Id of the test.
        test: String,
        /// Id of the verdict.
        verdict: String,
        /// The finding in one sentence.
        finding: String,
    },
    /// Derived: a violated limit or damage was found.
    DefectFound {
        /// Id of the test.
        test: String,
        /// Id of the outcome.
        outcome: String,
        /// Its name.
        name: String,
    },
    /// Derived: an answer that was far from what the others led to expect.
    Surprising {
        /// Id of the test.
        test: String,
        /// Surprise in bits.
        bits: f64,
        /// What was to be expected on average, in bits.
        expected: f64,
    },
    /// Derived: what leads now.
    Standing {
        /// The leading causes, at most three.
        leaders: Vec<Share>,
        /// Probability of something not listed.
        remainder: f64,
    },
    /// Derived: what the walk had come to when its end was accepted.
    Concluded {
        /// The leading cause; nothing when none is listed.
        leader: Option<Share>,
        /// Probability of something not listed.
        remainder: f64,
        /// It was stopped for safety.
        halted: bool,
    },
}

/// What sort of thing an event is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    /// Given, and taken back as one step.
    Step,
    /// Given before a step, and taken back with the one before it.
    Before,
    /// Given: takes back.
    Back,
    /// Given: a remark.
    Remark,
    /// Given: a danger of the case before.
    Danger,
    /// Given: the end of a sitting.
    End,
    /// Given, of the record.
    Record,
    /// Worked out.
    Derived,
}

impl Event {
    /// Every kind is named, so that a new one has to be thought about here.
    fn sort(&self) -> Sort {
        match self {
            Self::Complaint { .. }
            | Self::Equipment { .. }
            | Self::Accessories { .. }
            | Self::Offered { .. }
            | Self::Able { .. }
            | Self::Further
            | Self::Sizing
            | Self::Fact { .. }
            | Self::Answer { .. } => Sort::Step,
            Self::Acknowledged { .. } => Sort::Before,
            Self::Undone { .. } => Sort::Back,
            Self::Note { .. } => Sort::Remark,
            Self::LeftStanding { .. } => Sort::Danger,
            Self::Stopped | Self::Finished => Sort::End,
            Self::Visit { .. }
            | Self::Site { .. }
            | Self::Callback { .. }
            | Self::Photograph { .. }
            | Self::Repaired { .. }
            | Self::Proved { .. }
            | Self::Closed { .. } => Sort::Record,
            Self::Calculated { .. }
            | Self::DefectFound { .. }
            | Self::Surprising { .. }
            | Self::Standing { .. }
            | Self::Concluded { .. } => Sort::Derived,
        }
    }

    /// Whether this event came from outside.
    #[must_use]
    pub fn is_given(&self) -> bool {
        self.sort() != Sort::Derived
    }

    /// Whether it belongs to the record: it moves no question and no cause.
    #[must_use]
    pub fn is_of_record(&self) -> bool {
        self.sort() == Sort::Record
    }

    /// Whether "back" takes this event back as one step.
    #[must_use]
    pub fn is_step(&self) -> bool {
        self.sort() == Sort::Step
    }

    /// Whether it stays whatever is taken back: a remark, or of the record.
    #[must_use]
    pub fn is_lasting(&self) -> bool {
        matches!(self.sort(), Sort::Remark | Sort::Record)
    }

    /// Whether it stands among the steps and stays whatever is taken back of them: a visit, a danger of the case before.
    #[must_use]
    pub fn stays_among_steps(&self) -> bool {
        matches!(self, Self::Visit { .. }) || self.sort() == Sort::Danger
    }

    /// Whether the sitting ended with it.
    #[must_use]
    pub fn is_end(&self) -> bool {
        self.sort() == Sort::End
    }
}

/// Takes a further event into those that make the state of a walk, oldest first; whether it changed them.
///
/// Cautions accepted after a step belong to what came next, so they are taken back with it. More steps back than there are
/// take all of them, and each event that goes is looked at once, whatever the number says: it can come from a file that
/// somebody has altered.
pub(super) fn stand<E: Borrow<Event>>(standing: &mut Vec<E>, event: E) -> bool {
    match (event.borrow().sort(), event.borrow()) {
        (Sort::Step | Sort::Before | Sort::Danger, _) => standing.push(event),
        // A further visit moves no cause, but what was looked at before it may be otherwise now.
        (_, Event::Visit { .. }) if !standing.is_empty() => standing.push(event),
        (_, Event::Undone { steps }) => {
            let Some(earlier) = steps.checked_sub(1) else {
                return true;
            };
            let first = standing
                .iter()
                .enumerate()
                .rev()
                .filter(|(_, event)| (*event).borrow().is_step())
                .nth(earlier);
            let left = first.map_or(0, |(place, _)| place);
            let gone = standing.split_off(left);
            standing.extend(
                gone.into_iter()
                    .filter(|event| event.borrow().stays_among_steps()),
            );
        }
        _ => return false,
    }
    true
}

/// The events that make the state of a walk, oldest first, without what was taken back.
#[must_use]
pub fn standing<E: Borrow<Event>>(events: impl IntoIterator<Item = E>) -> Vec<E> {
    let mut standing = Vec::new();
    for event in events {
        stand(&mut standing, event);
    }
    standing
}
