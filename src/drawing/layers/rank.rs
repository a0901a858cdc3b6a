//! The row of each box: one below the lowest box that leads to it.

use petgraph::algo::toposort;
use petgraph::graph::DiGraph;

use super::plan::{LayoutError, Plan};

/// Works out the row of each box, counted from 0 at the top.
///
/// # Errors
/// When the ways go round or name a box that there is not.
pub(super) fn rank(plan: &Plan) -> Result<Vec<usize>, LayoutError> {
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    let places: Vec<_> = plan.boxes.iter().map(|_| graph.add_node(())).collect();
    for (number, link) in plan.links.iter().enumerate() {
        match (places.get(link.from), places.get(link.to)) {
            (Some(from), Some(to)) => graph.add_edge(*from, *to, ()),
            _ => return Err(LayoutError::NoSuchBox { link: number }),
        };
    }
    let sorted = toposort(&graph, None).map_err(|round| LayoutError::Round {
        box_on_it: round.node_id().index(),
    })?;
    let mut rows = vec![0; plan.boxes.len()];
    for from in sorted {
        for to in graph.neighbors(from) {
            rows[to.index()] = rows[to.index()].max(rows[from.index()] + 1);
        }
    }
    Ok(rows)
}
