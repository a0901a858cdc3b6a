//! Ways that lead back to where they were.

use petgraph::algo::tarjan_scc;

use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::graph::routes;

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let routes = routes(scope.knowledge);
    for component in tarjan_scc(&routes) {
        let is_loop = component.len() > 1 || routes.contains_edge(component[0], component[0]);
        if !is_loop {
            continue;
        }
        let mut places: Vec<_> = component.iter().map(|index| routes[*index]).collect();
        places.sort_unstable();
        let names: Vec<String> = places
            .iter()
            .map(|at| {
                let tree = &scope.knowledge.trees[at.tree];
                format!("{}/{}", tree.id, tree.nodes[at.node].id)
            })
            .collect();
        let place = |at: &crate::knowledge::model::At| {
            let tree = &scope.knowledge.trees[at.tree];
            scope.documents.node(&tree.id, &tree.nodes[at.node].id)
        };
        let mut finding = Finding::error(
            Code::Cycle,
            place(&places[0]),
            format!("the routes go round: `{}`", names.join("`, `")),
            "lead one of them on; a test is asked once, so going round asks nothing new",
        );
        for at in &places[1..] {
            finding = finding.also(place(at), "part of the round");
        }
        scope.sink.push(finding);
    }
}
