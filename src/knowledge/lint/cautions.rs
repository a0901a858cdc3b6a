//! Tests that can hurt and do not say so.

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::Hazard;

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    for test in &scope.knowledge.tests {
        let why = if test.is_powered() {
            "is made with power or flame on"
        } else if test.hazard >= Hazard::Burn {
            "can hurt"
        } else {
            continue;
        };
        if test.caution.trim().is_empty() {
            scope.sink.error(
                Code::NoCaution,
                scope.documents.entry(Section::Test, &test.id),
                format!("test `{}` {why} and has no caution", test.id),
                "add `caution`: what can hurt here and how to keep clear of it",
            );
        }
    }
}
