//! Choices, outcomes and complaints that no equipment is offered.

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{Equipment, Fit};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let idle = |section, id: &str, what: String, fit: &Fit, applies: &dyn Fn(&Equipment) -> bool| {
        let offered = |kind: &&Equipment| applies(kind) && fit.fits(kind);
        if *fit != Fit::default() && !knowledge.equipment.iter().any(|kind| offered(&kind)) {
            scope.sink.warning(
                Code::IdleChoice,
                scope.documents.entry(section, id),
                format!("{what} is offered for no equipment"),
                "fix its `parts` and `without`, or remove it",
            );
        }
    };
    for fact in &knowledge.facts {
        for choice in &fact.choices {
            let what = format!("choice `{}` of fact `{}`", choice.id, fact.id);
            idle(Section::Fact, &fact.id, what, &choice.fit, &|kind| {
                fact.applies_to(kind)
            });
        }
    }
    for test in &knowledge.tests {
        for outcome in &test.outcomes {
            let what = format!("outcome `{}` of test `{}`", outcome.id, test.id);
            idle(Section::Test, &test.id, what, &outcome.fit, &|kind| {
                test.applies_to(kind)
            });
        }
    }
    for tree in &knowledge.trees {
        let what = format!("complaint `{}`", tree.id);
        idle(Section::Tree, &tree.id, what, &tree.fit, &|_| true);
    }
}
