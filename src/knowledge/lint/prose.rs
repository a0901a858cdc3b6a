//! Words that must be there and are empty.

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::model::{NodeKind, TestKind};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    let documents = scope.documents;
    let mut demand = |text: &str, section: Section, id: &str, key: &str| {
        let place = documents.key(section, id, key);
        // A key that is not written at all has been reported by the loader and has the entry's own place.
        if text.trim().is_empty() && place != documents.entry(section, id) {
            findings.push(empty(place, key));
        }
    };
    for equipment in &scope.knowledge.equipment {
        demand(&equipment.name, Section::Equipment, &equipment.id, "name");
    }
    for fact in &scope.knowledge.facts {
        for (key, text) in [("name", &fact.name), ("ask", &fact.ask), ("find", &fact.find)] {
            demand(text, Section::Fact, &fact.id, key);
        }
    }
    for cause in &scope.knowledge.causes {
        for (key, text) in [
            ("name", &cause.name),
            ("mechanism", &cause.mechanism),
            ("remedy", &cause.remedy),
            ("proof", &cause.proof),
            ("caution", &cause.caution),
        ] {
            demand(text, Section::Cause, &cause.id, key);
        }
        if cause.prevent.iter().any(|advice| advice.text.trim().is_empty()) {
            demand("", Section::Cause, &cause.id, "prevent");
        }
    }
    for test in &scope.knowledge.tests {
        for (key, text) in [("name", &test.name), ("ask", &test.ask), ("why", &test.why)] {
            demand(text, Section::Test, &test.id, key);
        }
        if let TestKind::Reading { probes, .. } = &test.kind {
            demand(probes, Section::Test, &test.id, "probes");
        }
        if !matches!(test.kind, TestKind::Calculation { .. }) {
            demand(&test.instrument, Section::Test, &test.id, "instrument");
            let steps = if test.how.iter().all(|step| !step.trim().is_empty()) {
                test.how.join(" ")
            } else {
                String::new()
            };
            demand(&steps, Section::Test, &test.id, "how");
        }
    }
    labels_and_trees(scope, findings);
}

fn labels_and_trees(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    let documents = scope.documents;
    for test in &scope.knowledge.tests {
        for (index, outcome) in test.outcomes.iter().enumerate() {
            if outcome.label.trim().is_empty() {
                let place = documents.outcome(&test.id, index, "label");
                if place != documents.entry(Section::Test, &test.id) {
                    findings.push(empty(place, "label"));
                }
            }
        }
    }
    for tree in &scope.knowledge.trees {
        if tree
            .complaint
            .as_deref()
            .is_some_and(|text| text.trim().is_empty())
        {
            findings.push(empty(documents.tree(&tree.id), "complaint"));
        }
        for node in &tree.nodes {
            let NodeKind::Halt { advice, call } = &node.kind else {
                continue;
            };
            for (key, text) in [("halt", advice), ("call", call)] {
                let place = documents.node(&tree.id, &node.id, Some(key));
                if text.trim().is_empty() && place != documents.node(&tree.id, &node.id, None) {
                    findings.push(empty(place, key));
                }
            }
        }
    }
}

fn empty(place: Stretch, key: &str) -> Finding {
    Finding::error(
        Code::EmptyProse,
        place,
        format!("`{key}` is empty"),
        "write it; a technician reads it at this point",
    )
}
