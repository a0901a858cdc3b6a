//! The seam between the walk and whoever answers it: a person, an answer file, a simulated installation.

use thiserror::Error;

use super::{Event, Question, Walk};

/// The answer that nothing more can be done now.
pub const NOTHING: &str = "none";

/// What a respondent can do at a prompt.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// The answer, as typed or picked: an id for a choice, a number with or without unit for a reading or fact.
    Answer(String),
    /// It cannot be checked or found.
    CouldNotCheck,
    /// The cautions are accepted, or the end of the walk is.
    Accept,
    /// Take back this many steps.
    Back(usize),
    /// Keep a remark.
    Note(String),
    /// Give the outcome of a test that was not asked: its id, and the answer as for [`Reply::Answer`].
    Volunteer {
        /// Id of the test.
        test: String,
        /// The answer; nothing when it could not be checked.
        answer: Option<String>,
    },
    /// Give or correct a fact: its id, and the value as typed; nothing when it is not known.
    Correct {
        /// Id of the fact.
        fact: String,
        /// The value as typed.
        value: Option<String>,
    },
    /// Go on though it is time to conclude.
    Further,
    /// Tell the facts that the repair is sized by.
    Size,
    /// Stop here and keep the case.
    Stop,
}

impl Reply {
    /// Names those taken of what was offered, or says that none is.
    pub fn listed<'a>(ids: impl IntoIterator<Item = &'a str>) -> Self {
        let ids: Vec<&str> = ids.into_iter().collect();
        Self::Answer(if ids.is_empty() {
            NOTHING.to_owned()
        } else {
            ids.join(", ")
        })
    }
}

/// Why a reply was not taken. One line that says why; the question is asked again.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{reason}")]
pub struct Refusal {
    /// The reason, and what would be accepted.
    pub reason: String,
}

/// Why no reply could be had at all.
#[derive(Debug, Error)]
pub enum RespondentError {
    /// The keyboard or the pipe is closed.
    #[error("the input ended in the middle of a question")]
    InputEnded,
    /// The wait for a reply was broken off from outside.
    #[error("the question was broken off")]
    Interrupted,
    /// A reply that was prepared beforehand was not taken.
    #[error("{reason}")]
    Refused {
        /// A sentence for the person.
        reason: String,
    },
    /// The terminal could not be read or written.
    #[error("cannot use the terminal: {0}")]
    Io(#[from] std::io::Error),
}

/// A question together with the walk it belongs to, so that a front end can show what it likes of it.
#[derive(Clone, Copy)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Prompt<'a, 'k> {
    pub question: &'a Question,
    pub walk: &'a Walk<'k>,
}

/// Whoever answers.
pub trait Respondent {
    /// Answers a question.
    ///
    /// # Errors
    /// When no reply can be had; the walk then stops and the case is kept.
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError>;

    /// Is told that its reply was not taken, and why. The question is asked again.
    fn refused(&mut self, refusal: &Refusal);

    /// Is told once of everything that happened: given events once kept, with what was understood from the text where it was
    /// interpreted, in one line; and what followed from them.
    fn observe(&mut self, _event: &Event, _understood: Option<&str>, _walk: &Walk<'_>) {}
}
