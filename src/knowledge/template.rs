//! Commented templates of what an author adds to the knowledge.
//!
//! What stands in capitals is to be replaced. An id left in capitals is no id, so `lineside trees check` finds it. The words
//! that a key takes stand there as its name in braces, and are those of the table of keys.

use serde::{Deserialize, Serialize};

use super::fields::keys::{base, cause, source, test};
use super::fields::{Form, Key};
use crate::quantity::words;

words! {
    /// What there is a template for.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum TemplateKind {
        /// Something that can be wrong
        Cause = "cause",
        /// A test whose outcome a person picks
        Look = "look",
        /// A test whose outcome follows from a number
        Reading = "reading",
        /// A test the program works out
        Calculation = "calculation",
        /// The routing for a complaint
        Tree = "tree",
    }
}

/// The template, as a file that only needs its capitals replaced.
#[must_use]
pub fn template(kind: TemplateKind) -> String {
    let text = match kind {
        TemplateKind::Cause => include_str!("templates/cause.toml"),
        TemplateKind::Look => include_str!("templates/look.toml"),
        TemplateKind::Reading => include_str!("templates/reading.toml"),
        TemplateKind::Calculation => include_str!("templates/calculation.toml"),
        TemplateKind::Tree => include_str!("templates/tree.toml"),
    };
    let keys = [cause::KEYS, test::KEYS, base::KEYS, source::KEYS].concat();
    keys.iter().fold(text.to_owned(), with_words)
}

fn with_words(text: String, key: &Key) -> String {
    match key.form {
        Form::Word(words) | Form::Words(words) => {
            text.replace(&format!("{{{}}}", key.name), &words.join(" "))
        }
        _ => text,
    }
}
