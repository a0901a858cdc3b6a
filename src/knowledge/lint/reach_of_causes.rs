//! Causes no walk can bring forward.

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Cause, CauseIndex, Strength, TestIndex};

use super::Scope;

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    let knowledge = scope.knowledge;
    let asked: Vec<_> = scope
        .reached
        .iter()
        .map(|(tree, reached)| (&knowledge.trees[tree.0].id, reached.tests(knowledge)))
        .collect();
    for (index, cause) in knowledge.causes.iter().enumerate() {
        let mut tests = asked
            .iter()
            .filter(|(complaint, _)| cause.frequency.contains_key(*complaint))
            .flat_map(|(_, tests)| tests.iter());
        if tests.any(|test| bears_on(scope, *test, CauseIndex(index), cause)) {
            continue;
        }
        let why = if cause.frequency.is_empty() {
            "it names no complaint".to_owned()
        } else {
            let complaints: Vec<&str> = cause.frequency.keys().map(String::as_str).collect();
            format!("no test asked in `{}` speaks for it", complaints.join("`, `"))
        };
        findings.push(Finding::error(
            Code::UnreachableCause,
            scope.documents.entry(Section::Cause, &cause.id),
            format!("no walk can bring `{}` forward: {why}", cause.id),
            "give it a complaint in `frequency`, and a sign of `moderate` or more on a test asked there",
        ));
    }
}

/// Whether the test can speak for the cause on some equipment both belong to.
fn bears_on(scope: &Scope<'_>, test: TestIndex, index: CauseIndex, cause: &Cause) -> bool {
    let test = &scope.knowledge.tests[test.0];
    let speaks = test
        .outcomes
        .iter()
        .flat_map(|outcome| &outcome.signs)
        .any(|(named, strength)| *named == index && *strength >= Strength::Moderate);
    speaks
        && scope
            .knowledge
            .equipment
            .iter()
            .any(|equipment| test.applies_to(equipment) && cause.applies_to(equipment))
}
