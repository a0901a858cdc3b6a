//! Causes no test can tell apart.

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Cause, CauseIndex, Equipment, Knowledge};

use super::scope::Scope;
use super::weights;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    for (first, cause) in knowledge.causes.iter().enumerate() {
        for (second, other) in knowledge.causes.iter().enumerate().skip(first + 1) {
            if !can_meet(knowledge, cause, other)
                || is_separated(scope, CauseIndex(first), CauseIndex(second))
            {
                continue;
            }
            scope.sink.push(
                Finding::error(
                    Code::InseparableCauses,
                    scope.documents.entry(Section::Cause, &cause.id),
                    format!(
                        "no test tells `{}` from `{}`: every outcome says the same of both",
                        cause.id, other.id
                    ),
                    "say what one does and the other does not, and let an outcome show or find it",
                )
                .also(
                    scope.documents.entry(Section::Cause, &other.id),
                    "the same everywhere",
                ),
            );
        }
    }
}

/// Whether both can be behind one complaint on one kind of equipment.
fn can_meet(knowledge: &Knowledge, one: &Cause, other: &Cause) -> bool {
    let under = |cause, tree| weights::comes_under(knowledge, cause, tree);
    let mut trees = knowledge.trees.indices();
    trees.any(|tree| knowledge.trees[tree].is_complaint() && under(one, tree) && under(other, tree))
        && shared_equipment(knowledge, one, other).next().is_some()
}

fn shared_equipment<'k>(
    knowledge: &'k Knowledge,
    one: &'k Cause,
    other: &'k Cause,
) -> impl Iterator<Item = &'k Equipment> {
    knowledge
        .equipment
        .iter()
        .filter(|equipment| one.applies_to(equipment) && other.applies_to(equipment))
}

/// Whether some test that can be made on equipment both apply to says something else about them.
fn is_separated(scope: &Scope<'_>, one: CauseIndex, other: CauseIndex) -> bool {
    let knowledge = scope.knowledge;
    let mut tests = knowledge.tests.indices();
    tests.any(|test| {
        scope.weights.tells_apart(test, one, other)
            && shared_equipment(knowledge, &knowledge.causes[one], &knowledge.causes[other])
                .any(|equipment| knowledge.tests[test].applies_to(equipment))
    })
}
