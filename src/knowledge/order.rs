//! The tests of a tree in the order it was written.

use std::collections::BTreeSet;

use super::graph::ways_on;
use super::model::{At, Knowledge, NodeKind, TestIndex, TreeIndex};

/// Every test a walk of a tree can ask, in authored order: node by node from the start, pools in the order listed.
#[must_use]
pub fn authored(knowledge: &Knowledge, tree: TreeIndex) -> Vec<TestIndex> {
    let mut order: Vec<TestIndex> = Vec::new();
    let mut seen: BTreeSet<At> = BTreeSet::new();
    let mut open = vec![At {
        tree,
        node: knowledge.trees[tree].start,
    }];
    while let Some(at) = open.pop() {
        if !seen.insert(at) {
            continue;
        }
        let tests: &[TestIndex] = match &knowledge.trees[at.tree].nodes[at.node].kind {
            NodeKind::Test { test, .. } => std::slice::from_ref(test),
            NodeKind::Narrow { pool, .. } => pool,
            _ => &[],
        };
        for test in tests {
            if !order.contains(test) {
                order.push(*test);
            }
        }
        // The last pushed is taken first, so the ways go on in reverse.
        open.extend(ways_on(knowledge, at).into_iter().rev());
    }
    order
}
