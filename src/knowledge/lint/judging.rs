//! Tests that can be asked of an equipment but never judged there.

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{BoundOf, Equipment, FactIndex, InputFrom, Test, TestIndex, TestKind};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    for test in &scope.knowledge.tests {
        // Said once for a test, at the first equipment it fails on; the fix is the same for the others.
        let first = scope
            .knowledge
            .equipment
            .iter()
            .filter(|equipment| test.applies_to(equipment))
            .find_map(|equipment| Some((equipment, lacking(scope, test, equipment)?)));
        if let Some((equipment, lacking)) = first {
            scope.sink.error(
                Code::NeverJudged,
                scope.documents.entry(Section::Test, &test.id),
                format!(
                    "test `{}` applies to `{}`, where {lacking} does not",
                    test.id, equipment.id
                ),
                "give the test the same `parts`, or hold it against something every such equipment has",
            );
        }
    }
}

/// What the test cannot do without and this equipment does not have.
fn lacking(scope: &Scope<'_>, test: &Test, equipment: &Equipment) -> Option<String> {
    let knowledge = scope.knowledge;
    let fact = |index: FactIndex| {
        let fact = &knowledge.facts[index];
        (!fact.applies_to(equipment)).then(|| format!("the fact `{}`", fact.id))
    };
    let reading = |index: TestIndex| {
        let reading = &knowledge.tests[index];
        (!reading.applies_to(equipment)).then(|| format!("the reading `{}`", reading.id))
    };
    if let TestKind::Calculation { calculation, inputs } = &test.kind {
        let known = scope.catalog.iter().find(|known| known.name == calculation)?;
        return known
            .inputs
            .iter()
            .filter(|input| input.required && input.default.is_none())
            .find_map(|input| match inputs.get(input.name)? {
                InputFrom::Fact(index) => fact(*index),
                InputFrom::Reading(index) => reading(*index),
                InputFrom::Fixed(_) => None,
            });
    }
    test.outcomes
        .iter()
        .find_map(|outcome| match outcome.bound.as_ref()?.of? {
            BoundOf::Fact(index) => fact(index),
            BoundOf::Reading(index) => reading(index),
        })
}
