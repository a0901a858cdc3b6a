//! Causes no walk can bring forward.

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Cause, CauseIndex, Sign, Strength, TestIndex};

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
            "no complaint lists it".to_owned()
        } else {
            let complaints: Vec<&str> = cause.frequency.keys().map(String::as_str).collect();
            format!("no test asked in `{}` speaks for it", complaints.join("`, `"))
        };
        findings.push(Finding::error(
            Code::UnreachableCause,
            scope.documents.entry(Section::Cause, &cause.id),
            format!("no walk can bring `{}` forward: {why}", cause.id),
            "list it under `[frequency]` of a complaint, and give it a sign of `moderate` or more on a test asked there",
        ));
    }
}

/// A word of `moderate` or more, or a number at least three times the usual share, as moderate stands for.
fn speaks_up(sign: Sign, usual: f64) -> bool {
    match sign {
        Sign::Word(strength) => strength >= Strength::Moderate,
        Sign::Chance(chance) => chance >= 3.0 * usual,
    }
}

/// Whether the test can speak for the cause on some equipment both belong to.
fn bears_on(scope: &Scope<'_>, test: TestIndex, index: CauseIndex, cause: &Cause) -> bool {
    let test = &scope.knowledge.tests[test.0];
    let speaks = test
        .outcomes
        .iter()
        .flat_map(|outcome| outcome.signs.iter().map(move |sign| (outcome.usual, sign)))
        .any(|(usual, (named, sign))| *named == index && speaks_up(*sign, usual));
    speaks
        && scope
            .knowledge
            .equipment
            .iter()
            .any(|equipment| test.applies_to(equipment) && cause.applies_to(equipment))
}
