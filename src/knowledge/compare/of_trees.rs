//! Trees: nodes and where they lead.

use std::collections::BTreeMap;

use crate::knowledge::model::{At, Knowledge, Node, NodeKind, Tree};

use super::entries::{raises, requires};
use super::pieces::{differences, reworded, setting};
use super::{Change, Sort};

pub(super) fn tree(
    (before, old): (&Knowledge, &Tree),
    (after, new): (&Knowledge, &Tree),
    changes: &mut Vec<Change>,
) {
    let mut differs = |key, from: String, to: String| setting(Sort::Tree, &new.id, key, &from, &to, changes);
    differs("parts", old.fit.parts.join(", "), new.fit.parts.join(", "));
    differs("without", old.fit.without.join(", "), new.fit.without.join(", "));
    differs("rank", old.rank.to_string(), new.rank.to_string());
    differs(
        "requires",
        requires(before, &old.requires),
        requires(after, &new.requires),
    );
    differs("in-order", old.in_order.to_string(), new.in_order.to_string());
    differs("raises", raises(before, &old.raises), raises(after, &new.raises));
    let start = |tree: &Tree| tree.nodes.get(tree.start).map(|node| node.id.clone());
    if start(old) != start(new) {
        changes.push(Change::Route {
            tree: new.id.clone(),
            node: new.id.clone(),
            way: "start".to_owned(),
            from: start(old),
            to: start(new),
        });
    }
    reworded(
        Sort::Tree,
        &new.id,
        (&old.complaint, &old.words) != (&new.complaint, &new.words),
        changes,
    );
    for node in &old.nodes {
        if new.nodes.iter().all(|other| other.id != node.id) {
            changes.push(Change::Removed {
                sort: Sort::Node,
                id: format!("{}/{}", new.id, node.id),
            });
        }
    }
    for node in &new.nodes {
        let Some(known) = old.nodes.iter().find(|other| other.id == node.id) else {
            changes.push(Change::Added {
                sort: Sort::Node,
                id: format!("{}/{}", new.id, node.id),
            });
            continue;
        };
        for (way, from, to) in differences(&ways(before, old, known), &ways(after, new, node)) {
            changes.push(Change::Route {
                tree: new.id.clone(),
                node: node.id.clone(),
                way,
                from,
                to,
            });
        }
    }
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
