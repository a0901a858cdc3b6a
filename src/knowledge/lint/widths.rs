//! Names and labels that do not fit their line.

use unicode_width::UnicodeWidthStr;

use crate::knowledge::document::Section;
use crate::knowledge::fields::keys::{cause, fact, outcome, test};
use crate::knowledge::finding::{Code, Stretch};

use super::scope::Scope;

/// A label or the name of a cause stands on a line of 80 columns behind a number or a percentage.
const LONGEST_LINE: usize = 76;

/// The name of a test or a fact stands on a line of 60 columns, alone or before a value.
const LONGEST_NAME: usize = 60;

pub(super) fn check(scope: &Scope<'_>) {
    let documents = scope.documents;
    let fits = |text: &str, longest: usize, what: &str, place: &dyn Fn() -> Stretch| {
        let width = text.width();
        if width > longest {
            scope.sink.warning(
                Code::TextTooWide,
                place(),
                format!("{what} is {width} columns wide, expected at most {longest}"),
                "say it shorter; what explains it goes to `how`, `why` or `mechanism`",
            );
        }
    };
    for cause in &scope.knowledge.causes {
        fits(&cause.name, LONGEST_LINE, "the name", &|| {
            documents.key(Section::Cause, &cause.id, cause::NAME)
        });
    }
    for fact in &scope.knowledge.facts {
        fits(&fact.name, LONGEST_NAME, "the name", &|| {
            documents.key(Section::Fact, &fact.id, fact::NAME)
        });
        for choice in &fact.choices {
            fits(&choice.label, LONGEST_LINE, "a choice", &|| {
                documents.key(Section::Fact, &fact.id, fact::CHOICES)
            });
        }
    }
    for test in &scope.knowledge.tests {
        fits(&test.name, LONGEST_NAME, "the name", &|| {
            documents.key(Section::Test, &test.id, test::NAME)
        });
        for (index, outcome) in test.outcomes.iter().enumerate() {
            fits(&outcome.label, LONGEST_LINE, "the label", &|| {
                documents.outcome(&test.id, index, outcome::LABEL)
            });
        }
    }
    for tree in &scope.knowledge.trees {
        if let Some(complaint) = &tree.complaint {
            fits(complaint, LONGEST_LINE, "the complaint", &|| {
                documents.tree(&tree.id)
            });
        }
    }
}
