//! Nodes and trees no walk meets, and walks that run into nothing.

use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{At, NodeIndex};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    for (index, tree) in scope.knowledge.trees.indexed() {
        let at = |node| At { tree: index, node };
        let is_met = |node| scope.reached.iter().any(|(_, reached)| reached.meets(at(node)));
        let unmet: Vec<NodeIndex> = tree.nodes.indices().filter(|node| !is_met(*node)).collect();
        if unmet.len() == tree.nodes.len() && !tree.is_complaint() {
            scope.sink.error(
                Code::UnusedTree,
                scope.documents.tree(&tree.id),
                format!("no complaint leads into tree `{}`", tree.id),
                "enter it with `through`, or remove the file",
            );
            continue;
        }
        for node in unmet {
            let id = &tree.nodes[node].id;
            scope.sink.error(
                Code::UnreachableNode,
                scope.documents.node(&tree.id, id),
                format!("no way leads to node `{id}`"),
                "lead to it, or remove it",
            );
        }
    }
    for (tree, reached) in &scope.reached {
        for leave in &reached.stranded {
            let tree = &scope.knowledge.trees[*tree];
            let other = &scope.knowledge.trees[leave.tree];
            scope.sink.push(
                Finding::error(
                    Code::EndsWithoutClose,
                    scope.documents.tree(&tree.id),
                    format!(
                        "a walk of `{}` can end at a `leave` with nowhere to come back to",
                        tree.id
                    ),
                    "enter the shared tree with `through`, or end with `close = true`",
                )
                .also(
                    scope.documents.node(&other.id, &other.nodes[leave.node].id),
                    "ends here",
                ),
            );
        }
    }
}
