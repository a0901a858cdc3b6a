//! The one habit to change, and why.

use serde::{Deserialize, Serialize};

/// Kinds of habits, from the gravest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Power or flame while a danger stood or nobody had looked for one.
    ClearDangersFirst,
    /// The steps before a state were skipped.
    DoTheStepsFirst,
    /// A cause was named though what was found spoke for the truth.
    WeighWhatYouFound,
    /// A cause was named that it was not.
    ProveBeforeNaming,
    /// The truth was asked for while a test that shows it was open.
    AskWhatWouldShowIt,
    /// The right cause was named before anything showed it.
    SeeItBeforeNaming,
    /// Hands before ears: nothing was asked of who was there.
    AskBeforeTools,
    /// More live steps than the engine needed.
    DeadBeforeLive,
    /// Many tests that moved nothing.
    KnowWhatEachAnswerChanges,
    /// What leads was asked for instead of thought of.
    SayTheLeadersYourself,
    /// Nothing to change.
    KeepIt,
}

/// The habit, and why it is this one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Habit {
    /// Its kind.
    pub kind: Kind,
    /// What to do, in one sentence.
    pub says: String,
    /// What in this run shows it.
    pub because: String,
}

impl Kind {
    /// What to do, in one sentence.
    #[must_use]
    pub const fn says(self) -> &'static str {
        match self {
            Self::ClearDangersFirst => "Before anything has power: look for danger, and clear what you find.",
            Self::DoTheStepsFirst => {
                "Do the steps before the test every time: locked, proved dead, discharged; or geared up for live work."
            }
            Self::WeighWhatYouFound => {
                "Before you name a cause, go through what you found and ask what speaks against it."
            }
            Self::ProveBeforeNaming => "Before you name a cause, make the test that would prove you wrong.",
            Self::AskWhatWouldShowIt => {
                "When you are stuck, take each cause that leads and ask: what would show it, seen or measured?"
            }
            Self::SeeItBeforeNaming => "Before you name a cause, see or measure the fault itself.",
            Self::AskBeforeTools => "Ask whoever was there before you open anything.",
            Self::DeadBeforeLive => "What eyes or a dead meter can tell, do not measure live.",
            Self::KnowWhatEachAnswerChanges => {
                "Before each test, say what you would do after each of its answers. If it is the same, skip it."
            }
            Self::SayTheLeadersYourself => {
                "Name the two likeliest causes yourself before you look at what leads."
            }
            Self::KeepIt => "Nothing to change here. Take a harder one next.",
        }
    }
}

impl Habit {
    pub(super) fn none() -> Self {
        Self::new(Kind::KeepIt, String::new())
    }

    pub(super) fn new(kind: Kind, because: String) -> Self {
        Self {
            kind,
            says: kind.says().to_owned(),
            because,
        }
    }
}
