//! What a page is made of.

use serde::{Deserialize, Serialize};

use crate::quantity::words;

/// A label and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Pair {
    pub label: &'static str,
    pub text: String,
}

impl Pair {
    /// A label with its text.
    #[must_use]
    pub fn new(label: &'static str, text: impl Into<String>) -> Self {
        Self {
            label,
            text: text.into(),
        }
    }

    /// The same where there is any text.
    pub(super) fn unless_empty(label: &'static str, text: impl Into<String>) -> Option<Self> {
        Some(Self::new(label, text)).filter(|pair| !pair.text.is_empty())
    }
}

/// A heading with what stands under it.
#[derive(Clone, Debug)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// What stands under it.
    pub blocks: Vec<Block>,
    /// It is for looking up: on a page it is opened by whoever wants it, and printed only where it was opened.
    pub folded: bool,
}

impl Section {
    /// A section.
    #[must_use]
    pub fn new(title: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self {
            title: title.into(),
            blocks,
            folded: false,
        }
    }

    /// A section for looking up.
    #[must_use]
    pub fn folded(title: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self {
            folded: true,
            ..Self::new(title, blocks)
        }
    }
}

/// A piece of a page.
#[derive(Clone, Debug)]
pub enum Block {
    /// A paragraph.
    Text(String),
    /// A paragraph that must not be overlooked.
    Strong(String),
    /// A smaller heading.
    Heading(String),
    /// Points, in no order.
    Points(Vec<String>),
    /// What to mind before something is done.
    Cautions(Vec<String>),
    /// A thing with its particulars.
    Card(Card),
    /// Rows under heads.
    Table(Table),
    /// The one-line diagram of the result.
    OneLine,
    /// The photographs of the result.
    Photographs,
    /// Lines to sign on, each with who signs.
    Signatures(Vec<&'static str>),
}

/// A thing with its particulars.
#[derive(Clone, Debug)]
pub struct Card {
    /// Name of the thing, as its head.
    pub title: String,
    /// What is special about it: not sure, or whose job is open.
    pub mark: Option<String>,
    /// The particulars.
    pub pairs: Vec<Pair>,
}

/// Rows under heads; each row has as many cells as there are heads.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Table {
    pub heads: Vec<&'static str>,
    pub rows: Vec<Vec<String>>,
}

words! {
    /// Whom a page is for.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Reader {
        /// What to correct on the line side, with figure, basis and reading
        Electrician = "electrician",
        /// Plain words on one sheet
        Customer = "customer",
        /// Everything
        Manager = "manager",
    }
}

/// A page, ready to be written down.
#[derive(Clone, Debug)]
pub struct Page {
    /// Whom it is for.
    pub reader: Reader,
    /// The head of the sheet.
    pub title: String,
    /// Place, equipment, day and who came; what is not known is left to be written in.
    pub head: Vec<Pair>,
    /// What it comes to, in a sentence or two.
    pub lead: Vec<String>,
    /// The rest.
    pub sections: Vec<Section>,
    /// What stands in small letters at the end.
    pub foot: Vec<String>,
}
