//! Causes nothing finds, and findings that never count.

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{CauseIndex, Test};

use super::scope::Scope;
use super::weights;

pub(super) fn check(scope: &Scope<'_>) {
    for (index, cause) in scope.knowledge.causes.iter().enumerate() {
        let index = CauseIndex(index);
        let found = scope.knowledge.tests.iter().any(|test| {
            let finds = test.outcomes.iter().any(|outcome| weights::finds(outcome, index));
            finds && meets(scope, test, index)
        });
        if !found {
            scope.sink.warning(
                Code::NoDirectFinding,
                scope.documents.entry(Section::Cause, &cause.id),
                format!("no outcome finds `{}`, so nothing can prove it", cause.id),
                "name it under `finds` of the outcome that is the fault itself, seen or measured",
            );
        }
    }
    for test in &scope.knowledge.tests {
        idle(scope, test);
    }
}

/// What finds a cause that no equipment shares with the test: whoever wrote it thought the two can meet, so some
/// `parts` are wrong. Said once for a test, at the first outcome that has it.
fn idle(scope: &Scope<'_>, test: &Test) {
    let mut said: Vec<CauseIndex> = Vec::new();
    for (index, outcome) in test.outcomes.iter().enumerate() {
        for (cause, _) in &outcome.finds {
            if meets(scope, test, *cause) || said.contains(cause) {
                continue;
            }
            said.push(*cause);
            let known = &scope.knowledge.causes[*cause];
            scope.sink.warning(
                Code::IdleFinding,
                scope.documents.finding(&test.id, index, &known.id),
                format!(
                    "no equipment has the parts of both test `{}` and cause `{}`, so this never counts",
                    test.id, known.id
                ),
                "remove it, or correct the `parts` of one of them",
            );
        }
    }
}

fn meets(scope: &Scope<'_>, test: &Test, cause: CauseIndex) -> bool {
    let known = &scope.knowledge.causes[cause];
    let mut kinds = scope.knowledge.equipment.iter();
    kinds.any(|kind| test.applies_to(kind) && known.applies_to(kind))
}
