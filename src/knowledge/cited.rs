//! A source as a claim cites it, with what looking it up showed.

use serde::{Deserialize, Serialize};

/// What looking a source up showed about the claim it stands beside. The same page may support one claim and say
/// nothing of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LookedUp {
    /// It was read and says what the claim says.
    Supports,
    /// It was read and says part of it, or says something else besides.
    Mixed,
    /// It was read and says otherwise; the lint refuses such a source.
    Contradicts,
    /// It was looked for and could not be read.
    NotFound,
    /// It has an address, and nobody has looked it up.
    NotYet,
    /// It has no address: nothing to look up.
    NoAddress,
}

impl LookedUp {
    /// Every result, in the order they are counted.
    pub const ALL: [Self; 6] = [
        Self::Supports,
        Self::Mixed,
        Self::Contradicts,
        Self::NotFound,
        Self::NotYet,
        Self::NoAddress,
    ];

    /// The word in the files and in data; the last two stand for words that are not written.
    #[must_use]
    pub fn as_written(self) -> &'static str {
        match self {
            Self::Supports => "supports",
            Self::Mixed => "mixed",
            Self::Contradicts => "contradicts",
            Self::NotFound => "not-found",
            Self::NotYet => "not-yet",
            Self::NoAddress => "no-address",
        }
    }

    /// What is shown to a person.
    #[must_use]
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Supports => "read, supports the claim",
            Self::Mixed => "read, supports part of it",
            Self::Contradicts => "read, contradicts it",
            Self::NotFound => "looked for, not found",
            Self::NotYet => "address, not looked up yet",
            Self::NoAddress => "no address",
        }
    }
}

/// One source of a claim.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Title and address, standard and section, "common practice, no source", or "from memory".
    pub text: String,
    /// What looking it up showed.
    pub looked_up: LookedUp,
}

impl Source {
    /// A source written as a text alone: nobody has recorded a look-up.
    #[must_use]
    pub fn plain(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            looked_up: not_looked_up(text),
        }
    }
}

/// What is true of a source while no look-up is recorded.
#[must_use]
pub fn not_looked_up(text: &str) -> LookedUp {
    if has_address(text) {
        LookedUp::NotYet
    } else {
        LookedUp::NoAddress
    }
}

/// Whether a source gives a place on the web.
#[must_use]
pub fn has_address(text: &str) -> bool {
    let text = text.to_lowercase();
    text.contains("http://") || text.contains("https://")
}
