//! What happens in a walk, as data. Screen, journal and report all consume these.
//!
//! *Given* events come from the person (or answer file, or rig) and alone make the state: replaying them in
//! order gives the same walk. *Derived* events follow from them and are kept for whoever reads a journal.

use std::borrow::Borrow;

use serde::{Deserialize, Serialize};

use crate::knowledge::model::State;
use crate::quantity::{Quantity, Value};

/// An answer to a test, as given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// One of the test's outcomes, by id.
    Outcome(String),
    /// One of the test's outcomes, by id, that the person thinks true without being sure.
    Leaning(String),
    /// A reading.
    Reading(Quantity),
    /// It could not be checked. Moves nothing.
    CouldNotCheck,
}

/// A cause and its probability at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Id of the cause.
    pub cause: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
    /// Given: what was found in the end.
    Closed {
        /// Id of the cause; nothing when the knowledge does not list it.
        cause: Option<String>,
        /// A reading proved it.
        proved: bool,
        /// What proved it or what was done, in the person's words.
        text: String,
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
}

impl Event {
    /// Whether this event came from outside and makes the state.
    #[must_use]
    pub fn is_given(&self) -> bool {
        !matches!(
            self,
            Self::Calculated { .. }
                | Self::DefectFound { .. }
                | Self::Surprising { .. }
                | Self::Standing { .. }
        )
    }

    /// Whether "back" takes this event back as one step.
    #[must_use]
    pub fn is_step(&self) -> bool {
        matches!(
            self,
            Self::Complaint { .. }
                | Self::Equipment { .. }
                | Self::Accessories { .. }
                | Self::Fact { .. }
                | Self::Answer { .. }
        )
    }
}

/// Takes the last steps out of a list of events, oldest first. More steps than there are take all of them.
///
/// Cautions accepted after a step belong to what came next, so they go with it. Looks at each event that goes once,
/// whatever the number says: it can come from a file that somebody has altered.
pub fn take_back<E: Borrow<Event>>(events: &mut Vec<E>, steps: usize) {
    let Some(earlier) = steps.checked_sub(1) else {
        return;
    };
    let first = events
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, event)| (*event).borrow().is_step())
        .nth(earlier);
    events.truncate(first.map_or(0, |(place, _)| place));
}
