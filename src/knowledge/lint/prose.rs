//! Words that must be there and are empty.

use crate::knowledge::document::{Leg, Section, in_outcome};
use crate::knowledge::fields::Key;
use crate::knowledge::fields::keys::{cause, halting, outcome, test, tree};
use crate::knowledge::finding::{Code, Stretch};
use crate::knowledge::model::{NodeKind, TestKind};
use crate::knowledge::prose::{OF_CAUSE, OF_EQUIPMENT, OF_FACT, OF_TEST, Worded};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    for equipment in &knowledge.equipment {
        each(scope, Section::Equipment, &equipment.id, OF_EQUIPMENT, equipment);
    }
    for fact in &knowledge.facts {
        each(scope, Section::Fact, &fact.id, OF_FACT, fact);
    }
    for entry in &knowledge.causes {
        each(scope, Section::Cause, &entry.id, OF_CAUSE, entry);
        if entry.prevent.iter().any(|advice| is_empty(&advice.text)) {
            demand(scope, Section::Cause, &entry.id, cause::PREVENT, "");
        }
    }
    for entry in &knowledge.tests {
        let demand = |key, text: &str| demand(scope, Section::Test, &entry.id, key, text);
        each(scope, Section::Test, &entry.id, OF_TEST, entry);
        if let TestKind::Reading { probes, .. } = &entry.kind {
            demand(test::PROBES, probes);
        }
        if !matches!(entry.kind, TestKind::Calculation { .. }) {
            demand(test::INSTRUMENT, &entry.instrument);
            if entry.how.is_empty() || entry.how.iter().any(|step| is_empty(step)) {
                demand(test::HOW, "");
            }
        }
        for (index, _) in entry
            .outcomes
            .indexed()
            .filter(|(_, outcome)| is_empty(&outcome.label))
        {
            let path = in_outcome(index.place(), Leg::Value(outcome::LABEL.name));
            empty(
                scope,
                scope.documents.written(Section::Test, &entry.id, &path),
                outcome::LABEL,
            );
        }
    }
    for entry in &knowledge.trees {
        if entry.complaint.as_deref().is_some_and(is_empty) {
            empty(scope, Some(scope.documents.tree(&entry.id)), tree::COMPLAINT);
        }
        for node in &entry.nodes {
            let NodeKind::Halt { advice, call } = &node.kind else {
                continue;
            };
            for (key, _) in [(halting::HALT, advice), (halting::CALL, call)]
                .into_iter()
                .filter(|(_, text)| is_empty(text))
            {
                let path = [Leg::Key("node"), Leg::Key(&node.id), Leg::Value(key.name)];
                empty(
                    scope,
                    scope.documents.written(Section::Tree, &entry.id, &path),
                    key,
                );
            }
        }
    }
}

fn is_empty(text: &str) -> bool {
    text.trim().is_empty()
}

fn each<T>(scope: &Scope<'_>, section: Section, id: &str, words: &[Worded<T>], entry: &T) {
    for (key, text) in words {
        demand(scope, section, id, *key, text(entry));
    }
}

fn demand(scope: &Scope<'_>, section: Section, id: &str, key: Key, text: &str) {
    if is_empty(text) {
        let path = [Leg::Value(key.name)];
        empty(scope, scope.documents.written(section, id, &path), key);
    }
}

/// A key that is not written at all has been reported by the loader.
fn empty(scope: &Scope<'_>, place: Option<Stretch>, key: Key) {
    if let Some(place) = place {
        scope.sink.error(
            Code::EmptyProse,
            place,
            format!("`{}` is empty", key.name),
            "write it; a technician reads it at this point",
        );
    }
}
