//! Commented templates of what an author adds to the knowledge.
//!
//! What stands in capitals is to be replaced. An id left in capitals is no id, so `lineside trees check` finds it.

use serde::{Deserialize, Serialize};

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
pub fn template(kind: TemplateKind) -> &'static str {
    match kind {
        TemplateKind::Cause => include_str!("templates/cause.toml"),
        TemplateKind::Look => include_str!("templates/look.toml"),
        TemplateKind::Reading => include_str!("templates/reading.toml"),
        TemplateKind::Calculation => include_str!("templates/calculation.toml"),
        TemplateKind::Tree => include_str!("templates/tree.toml"),
    }
}
