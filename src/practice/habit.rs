//! The one habit to change, and why.

use serde::{Deserialize, Serialize};

use crate::quantity::words;

words! {
    /// Kinds of habits, from the gravest.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum Kind {
        /// Power or flame while a danger stood or nobody had looked for one.
        ClearDangersFirst = "clear-dangers-first" =>
            "Before anything has power: look for danger, and clear what you find.",
        /// The steps before a state were skipped.
        DoTheStepsFirst = "do-the-steps-first" =>
            "Do the steps before the test every time: locked, proved dead, discharged; or geared up for live work.",
        /// A cause was named though what was found spoke for the truth.
        WeighWhatYouFound = "weigh-what-you-found" =>
            "Before you name a cause, go through what you found and ask what speaks against it.",
        /// A cause was named that it was not.
        ProveBeforeNaming = "prove-before-naming" =>
            "Before you name a cause, make the test that would prove you wrong.",
        /// The truth was asked for while a test that shows it was open.
        AskWhatWouldShowIt = "ask-what-would-show-it" =>
            "When you are stuck, take each cause that leads and ask: what would show it, seen or measured?",
        /// The right cause was named before anything showed it.
        SeeItBeforeNaming = "see-it-before-naming" => "Before you name a cause, see or measure the fault itself.",
        /// Hands before ears: nothing was asked of who was there.
        AskBeforeTools = "ask-before-tools" => "Ask whoever was there before you open anything.",
        /// More live steps than the engine needed.
        DeadBeforeLive = "dead-before-live" => "What eyes or a dead meter can tell, do not measure live.",
        /// Many tests that moved nothing.
        KnowWhatEachAnswerChanges = "know-what-each-answer-changes" =>
            "Before each test, say what you would do after each of its answers. If it is the same, skip it.",
        /// What leads was asked for instead of thought of.
        SayTheLeadersYourself = "say-the-leaders-yourself" =>
            "Name the two likeliest causes yourself before you look at what leads.",
        /// Nothing to change.
        KeepIt = "keep-it" => "Nothing to change here. Take a harder one next.",
    }
}

/// The habit, and why it is this one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Habit {
    /// Which of the habits.
    pub kind: Kind,
    /// What to do, in one sentence.
    pub says: String,
    /// What in this run shows it.
    pub because: String,
}

impl Habit {
    pub(super) fn none() -> Self {
        Self::new(Kind::KeepIt, String::new())
    }

    pub(super) fn new(kind: Kind, because: String) -> Self {
        Self {
            kind,
            says: kind.in_words().to_owned(),
            because,
        }
    }
}
