//! Tests, facts and parts nothing uses.

use std::collections::BTreeSet;

use crate::knowledge::document::Section;
use crate::knowledge::fields::keys::equipment::PARTS;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{FactIndex, HoldIndex, InputFrom, RequirementIndex, TestIndex, TestKind};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    tests(scope);
    facts(scope);
    parts(scope);
    requirements(scope);
    holds(scope);
}

fn holds(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let outcomes = knowledge.tests.iter().flat_map(|test| &test.outcomes);
    let raised: BTreeSet<HoldIndex> = outcomes
        .flat_map(|outcome| &outcome.raises)
        .chain(knowledge.trees.iter().flat_map(|tree| &tree.raises))
        .copied()
        .collect();
    for (index, hold) in knowledge.holds.iter().enumerate() {
        if !hold.from_start && !hold.each_visit && !raised.contains(&HoldIndex(index)) {
            scope.sink.error(
                Code::UnusedHold,
                scope.documents.entry(Section::Hold, &hold.id),
                format!("nothing raises the hold `{}`", hold.id),
                "name it under `raises` of an outcome or a complaint, say `from-start = true`, or remove it",
            );
        }
    }
}

fn tests(scope: &Scope<'_>) {
    let asked: BTreeSet<TestIndex> = scope
        .reached
        .iter()
        .flat_map(|(_, reached)| reached.tests(scope.knowledge))
        .collect();
    for (index, test) in scope.knowledge.tests.iter().enumerate() {
        if !asked.contains(&TestIndex(index)) {
            scope.sink.error(
                Code::UnusedTest,
                scope.documents.entry(Section::Test, &test.id),
                format!("no tree asks `{}`", test.id),
                "ask it at a node, put it in a `narrow` pool, or remove it",
            );
        }
    }
}

fn facts(scope: &Scope<'_>) {
    let mut used: BTreeSet<FactIndex> = BTreeSet::new();
    for test in &scope.knowledge.tests {
        used.extend(&test.needs);
        used.extend(test.bound_facts());
    }
    let calculated = scope.knowledge.tests.iter().filter_map(|test| match &test.kind {
        TestKind::Calculation { inputs, .. } => Some(inputs),
        _ => None,
    });
    let required = scope.knowledge.requirements.iter().map(|own| &own.inputs);
    used.extend(
        calculated
            .chain(required)
            .flat_map(|inputs| inputs.values())
            .filter_map(|from| match from {
                InputFrom::Fact(fact) => Some(*fact),
                _ => None,
            }),
    );
    for (index, fact) in scope.knowledge.facts.iter().enumerate() {
        if !used.contains(&FactIndex(index)) {
            scope.sink.warning(
                Code::UnusedFact,
                scope.documents.entry(Section::Fact, &fact.id),
                format!("no test and no requirement uses the fact `{}`", fact.id),
                "name it in an input, a bound or `needs`, or remove it",
            );
        }
    }
}

fn requirements(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let causes = knowledge.causes.iter().flat_map(|cause| &cause.requires);
    let trees = knowledge.trees.iter().flat_map(|tree| &tree.requires);
    let used: BTreeSet<RequirementIndex> = causes.chain(trees).copied().collect();
    for (index, requirement) in knowledge.requirements.iter().enumerate() {
        if !used.contains(&RequirementIndex(index)) {
            scope.sink.warning(
                Code::UnusedRequirement,
                scope.documents.entry(Section::Requirement, &requirement.id),
                format!("no cause and no complaint requires `{}`", requirement.id),
                "name it in `requires`, or remove it",
            );
        }
    }
}

fn parts(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let causes = knowledge.causes.iter().flat_map(|cause| &cause.parts);
    let tests = knowledge.tests.iter().flat_map(|test| &test.parts);
    let facts = knowledge.facts.iter().flat_map(|fact| &fact.parts);
    let requirements = knowledge.requirements.iter().flat_map(|own| &own.parts);
    let holds = knowledge
        .holds
        .iter()
        .flat_map(|hold| hold.fit.parts.iter().chain(&hold.fit.without));
    let choices = knowledge
        .facts
        .iter()
        .flat_map(|fact| &fact.choices)
        .map(|choice| &choice.fit);
    let outcomes = knowledge
        .tests
        .iter()
        .flat_map(|test| &test.outcomes)
        .map(|outcome| &outcome.fit);
    let offered = choices
        .chain(outcomes)
        .chain(knowledge.trees.iter().map(|tree| &tree.fit))
        .flat_map(|fit| fit.parts.iter().chain(&fit.without));
    let mut used: BTreeSet<&str> = causes
        .chain(offered)
        .chain(tests)
        .chain(facts)
        .chain(requirements)
        .chain(holds)
        .map(String::as_str)
        .collect();
    for equipment in &knowledge.equipment {
        for part in &equipment.parts {
            // Said once, at the first equipment that has it.
            if used.insert(part) {
                let place = if equipment.accessories.contains(part) {
                    scope.documents.entry(Section::Accessory, part)
                } else {
                    scope.documents.key(Section::Equipment, &equipment.id, PARTS)
                };
                scope.sink.warning(
                    Code::UnusedPart,
                    place,
                    format!("no cause, test or fact names the part `{part}`"),
                    "name it where it matters, or remove it",
                );
            }
        }
    }
}
