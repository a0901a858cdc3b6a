//! Claims without a source, and sources that say otherwise than their claim.

use crate::knowledge::cited::LookedUp;
use crate::knowledge::document::{Leg, Section};
use crate::knowledge::fields::keys::hold::SOURCE;
use crate::knowledge::fields::keys::outcome::DEFECT;
use crate::knowledge::finding::{Code, Stretch};
use crate::quantity::Word;

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let documents = scope.documents;
    let causes = scope
        .knowledge
        .causes
        .iter()
        .map(|cause| (Section::Cause, &cause.id, &cause.source));
    let tests = scope
        .knowledge
        .tests
        .iter()
        .map(|test| (Section::Test, &test.id, &test.source));
    let holds = scope
        .knowledge
        .holds
        .iter()
        .map(|hold| (Section::Hold, &hold.id, &hold.source));
    for (section, id, source) in causes.chain(tests).chain(holds) {
        let written = Leg::Value(SOURCE.name);
        let is_unsourced = source.is_empty() || source.iter().any(|one| one.text.trim().is_empty());
        if let Some(place) = documents
            .written(section, id, &[written])
            .filter(|_| is_unsourced)
        {
            unsourced(scope, place, &format!("{} `{id}`", section.word()));
        }
        for (index, one) in source.iter().enumerate() {
            if one.looked_up == LookedUp::Contradicts {
                scope.sink.error(
                    Code::ContradictedSource,
                    documents.place(section, id, &[written, Leg::Item(index)]),
                    format!("{} `{id}` cites a source that says otherwise", section.word()),
                    "correct what the entry says, or take a source that supports it",
                );
            }
        }
    }
    for test in &scope.knowledge.tests {
        for (index, outcome) in test.outcomes.iter().enumerate() {
            if outcome
                .defect
                .as_ref()
                .is_some_and(|defect| defect.source.trim().is_empty())
            {
                let place = documents.outcome(&test.id, index, DEFECT);
                unsourced(scope, place, &format!("the defect of outcome `{}`", outcome.id));
            }
        }
    }
}

fn unsourced(scope: &Scope<'_>, place: Stretch, what: &str) {
    scope.sink.error(
        Code::NoSource,
        place,
        format!("{what} has no source"),
        "name title and address or standard and section, or write `common practice, no source` or `from memory`",
    );
}
