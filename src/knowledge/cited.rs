//! A source as a claim cites it, with what looking it up showed.

use serde::{Deserialize, Serialize};

use crate::quantity::words;

words! {
    /// What looking a source up showed about the claim it stands beside. The same page may support one claim and say
    /// nothing of another.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum LookedUp {
        /// Read, and it says what the claim says
        Supports = "supports" => "read, supports the claim",
        /// Read, and it says part of it
        Mixed = "mixed" => "read, supports part of it",
        /// Read, and it says otherwise
        Contradicts = "contradicts" => "read, contradicts it",
        /// Looked for and not found
        NotFound = "not-found" => "looked for, not found",
        /// It has an address, and nobody has looked it up
        NotYet = "not-yet" => "address, not looked up yet",
        /// Claims none of whose sources has an address
        NoAddress = "no-address" => "no address",
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
