//! Claims without a source, and sources that say otherwise than their claim.

use crate::knowledge::cited::LookedUp;
use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
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
        let place = documents.key(section, id, "source");
        let is_written = place != documents.entry(section, id);
        if is_written && (source.is_empty() || source.iter().any(|one| one.text.trim().is_empty())) {
            findings.push(unsourced(place, &format!("{} `{id}`", section.key())));
        }
        for (index, one) in source.iter().enumerate() {
            if one.looked_up == LookedUp::Contradicts {
                findings.push(Finding::error(
                    Code::ContradictedSource,
                    documents.item(section, id, "source", index),
                    format!("{} `{id}` cites a source that says otherwise", section.key()),
                    "correct what the entry says, or take a source that supports it",
                ));
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
                let place = documents.outcome(&test.id, index, "defect");
                findings.push(unsourced(
                    place,
                    &format!("the defect of outcome `{}`", outcome.id),
                ));
            }
        }
    }
}

fn unsourced(place: crate::knowledge::finding::Stretch, what: &str) -> Finding {
    Finding::error(
        Code::NoSource,
        place,
        format!("{what} has no source"),
        "name title and address or standard and section, or write `common practice, no source` or `from memory`",
    )
}
