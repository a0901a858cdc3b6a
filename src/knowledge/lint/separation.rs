//! Causes no test can tell apart.

use std::collections::BTreeMap;

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Cause, CauseIndex, Equipment, Knowledge, OutcomeIndex, Sign, TestIndex};

use super::Scope;

/// Everything the tests say about one cause.
pub(super) type Row = BTreeMap<(TestIndex, OutcomeIndex), Sign>;

/// The row of every cause.
pub(super) fn rows(knowledge: &Knowledge) -> Vec<Row> {
    let mut rows = vec![Row::new(); knowledge.causes.len()];
    for (test, known) in knowledge.tests.iter().enumerate() {
        for (outcome, said) in known.outcomes.iter().enumerate() {
            for (cause, sign) in &said.signs {
                rows[cause.0].insert((TestIndex(test), OutcomeIndex(outcome)), *sign);
            }
        }
    }
    rows
}

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    let knowledge = scope.knowledge;
    let rows = rows(knowledge);
    for (first, cause) in knowledge.causes.iter().enumerate() {
        for (second, other) in knowledge.causes.iter().enumerate().skip(first + 1) {
            if !can_meet(knowledge, cause, other)
                || is_separated(knowledge, &rows, CauseIndex(first), CauseIndex(second))
                || is_excused(scope, &cause.id, &other.id)
            {
                continue;
            }
            findings.push(
                Finding::error(
                    Code::InseparableCauses,
                    scope.documents.entry(Section::Cause, &cause.id),
                    format!(
                        "no test tells `{}` from `{}`: their signs are the same everywhere",
                        cause.id, other.id
                    ),
                    format!(
                        "add a sign that differs, or `same-signs-as = {{ {} = \"reason\" }}`",
                        other.id
                    ),
                )
                .also(scope.documents.entry(Section::Cause, &other.id), "the same signs"),
            );
        }
    }
}

/// Whether both can be behind one complaint on one kind of equipment.
pub(super) fn can_meet(knowledge: &Knowledge, one: &Cause, other: &Cause) -> bool {
    one.frequency
        .keys()
        .any(|complaint| other.frequency.contains_key(complaint))
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
pub(super) fn is_separated(knowledge: &Knowledge, rows: &[Row], one: CauseIndex, other: CauseIndex) -> bool {
    let (first, second) = (&rows[one.0], &rows[other.0]);
    let mut differing = first
        .iter()
        .filter(|(key, strength)| second.get(*key) != Some(*strength))
        .chain(second.iter().filter(|(key, _)| !first.contains_key(*key)))
        .map(|((test, _), _)| &knowledge.tests[test.0]);
    differing.any(|test| {
        shared_equipment(knowledge, &knowledge.causes[one.0], &knowledge.causes[other.0])
            .any(|equipment| test.applies_to(equipment))
    })
}

fn is_excused(scope: &Scope<'_>, one: &str, other: &str) -> bool {
    let says = |cause: &str, about: &str| {
        scope
            .documents
            .pairs(Section::Cause, cause, "same-signs-as")
            .iter()
            .any(|(named, _, reason)| named == about && !reason.trim().is_empty())
    };
    says(one, other) || says(other, one)
}
