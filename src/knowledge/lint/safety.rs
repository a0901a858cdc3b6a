//! Tests on live parts before anything was looked at for safety.

use std::collections::BTreeSet;

use crate::knowledge::document::{Leg, Section};
use crate::knowledge::fields::keys::{narrowing, testing};
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{NodeKind, TestIndex};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let mut said = BTreeSet::new();
    for (complaint, reached) in &scope.reached {
        for (at, safe) in &reached.met {
            if *safe {
                continue;
            }
            let tree = &knowledge.trees[at.tree];
            let node = &tree.nodes[at.node];
            let (key, tests) = match &node.kind {
                NodeKind::Test { test, .. } => (testing::TEST, std::slice::from_ref(test)),
                NodeKind::Narrow { pool, .. } => (narrowing::NARROW, pool.as_slice()),
                _ => continue,
            };
            for test in tests {
                if !is_live(scope, *test) || !said.insert((*at, *test)) {
                    continue;
                }
                let id = &knowledge.tests[*test].id;
                let path = [
                    Leg::Key("node"),
                    Leg::Key(&node.id),
                    Leg::Value(key.name),
                    Leg::Text(id),
                ];
                let place = scope.documents.place(Section::Tree, &tree.id, &path);
                scope.sink.push(
                    Finding::error(
                        Code::EnergisedBeforeSafety,
                        place,
                        format!(
                            "test `{id}` is made with power or flame on, and a walk of `{}` comes here without a safety look",
                            knowledge.trees[*complaint].id
                        ),
                        "ask a test with `safety = true` before it on every way",
                    )
                    .also(scope.documents.tree(&knowledge.trees[*complaint].id), "the walk starts here"),
                );
            }
        }
    }
}

/// Whether the test, or a reading asked for its sake, is made on live parts.
fn is_live(scope: &Scope<'_>, test: TestIndex) -> bool {
    let mut waiting = vec![test];
    let mut seen = BTreeSet::new();
    while let Some(test) = waiting.pop() {
        let known = &scope.knowledge.tests[test];
        if known.is_powered() {
            return true;
        }
        if seen.insert(test) {
            waiting.extend(known.readings());
        }
    }
    false
}
