//! Trees: nodes and where they lead.

use std::collections::BTreeMap;

use crate::knowledge::model::{At, Knowledge, Node, NodeKind, Tree};

use super::pieces::{differences, lists};
use super::{Change, Sort};

pub(super) fn nodes(
    (before, old): (&Knowledge, &Tree),
    (after, new): (&Knowledge, &Tree),
    changes: &mut Vec<Change>,
) {
    let route = |node: &str, way: String, from, to, changes: &mut Vec<Change>| {
        changes.push(Change::Route {
            tree: new.id.clone(),
            node: node.to_owned(),
            way,
            from,
            to,
        });
    };
    let start = |tree: &Tree| tree.nodes.get(tree.start).map(|node| node.id.clone());
    if start(old) != start(new) {
        route(&new.id, "start".to_owned(), start(old), start(new), changes);
    }
    lists(
        Sort::Node,
        Some(&new.id),
        &old.nodes,
        &new.nodes,
        changes,
        |known, node, changes| {
            for (way, from, to) in differences(&ways(before, old, known), &ways(after, new, node)) {
                route(&node.id, way, from, to, changes);
            }
        },
    );
}

/// What a node does and where it leads, by way.
fn ways(knowledge: &Knowledge, tree: &Tree, node: &Node) -> BTreeMap<String, String> {
    let to = |at: At| {
        let other = &knowledge.trees[at.tree];
        let node = &other.nodes[at.node].id;
        if other.id == tree.id {
            node.clone()
        } else {
            format!("{}/{node}", other.id)
        }
    };
    let mut ways = BTreeMap::new();
    match &node.kind {
        NodeKind::Test {
            test,
            to: routes,
            unknown,
            absent,
        } => {
            let known = &knowledge.tests[*test];
            ways.insert("test".to_owned(), known.id.clone());
            for (outcome, at) in known.outcomes.iter().zip(routes) {
                ways.insert(outcome.id.clone(), to(*at));
            }
            ways.insert("could not check".to_owned(), to(*unknown));
            ways.insert("does not apply".to_owned(), to(*absent));
        }
        NodeKind::Narrow { pool, all, then } => {
            if *all {
                ways.insert("pool".to_owned(), "all".to_owned());
            }
            for test in pool.iter().filter(|_| !all) {
                ways.insert(
                    format!("pool {}", knowledge.tests[*test].id),
                    "in the pool".to_owned(),
                );
            }
            ways.insert("then".to_owned(), to(*then));
        }
        NodeKind::Through { start, then } => {
            ways.insert("through".to_owned(), knowledge.trees[start.tree].id.clone());
            ways.insert("then".to_owned(), to(*then));
        }
        NodeKind::Leave => {
            ways.insert("leave".to_owned(), "back".to_owned());
        }
        NodeKind::Halt { advice, call } => {
            ways.insert("halt".to_owned(), advice.clone());
            ways.insert("call".to_owned(), call.clone());
        }
        NodeKind::Close => {
            ways.insert("close".to_owned(), "end".to_owned());
        }
    }
    ways
}
