//! The trees as one directed graph, and what can be reached in it.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use petgraph::graph::DiGraph;

use super::model::{At, Knowledge, NodeIndex, NodeKind, Test, TestIndex, Tree, TreeIndex};

/// Every node of every tree, with an edge for each way on.
///
/// A `through` has an edge into the shared tree and one to its `then`: the coming back is part of the second.
#[must_use]
pub fn routes(knowledge: &Knowledge) -> DiGraph<At, ()> {
    let mut graph = DiGraph::new();
    let mut places = HashMap::new();
    for (tree, known) in knowledge.trees.iter().enumerate() {
        for node in 0..known.nodes.len() {
            let at = At {
                tree: TreeIndex(tree),
                node: NodeIndex(node),
            };
            places.insert(at, graph.add_node(at));
        }
    }
    for (&at, &from) in &places {
        for next in ways_on(knowledge, at) {
            if let Some(&to) = places.get(&next) {
                graph.update_edge(from, to, ());
            }
        }
    }
    graph
}

/// Where a node leads, each place once, in the order of the outcomes.
#[must_use]
pub fn ways_on(knowledge: &Knowledge, at: At) -> Vec<At> {
    let mut ways = Vec::new();
    let mut add = |at: At| {
        if !ways.contains(&at) {
            ways.push(at);
        }
    };
    match &knowledge.trees[at.tree].nodes[at.node].kind {
        NodeKind::Test {
            to, unknown, absent, ..
        } => {
            to.iter().copied().for_each(&mut add);
            add(*unknown);
            add(*absent);
        }
        NodeKind::Narrow { then, .. } => add(*then),
        NodeKind::Through { start, then } => {
            add(*start);
            add(*then);
        }
        NodeKind::Leave | NodeKind::Halt { .. } | NodeKind::Close => {}
    }
    ways
}

/// A node as it is met on some path: whether a safety look was made before it.
type Met = (At, bool);

/// What the walks of one complaint can meet.
///
/// A shared tree comes back only to where it was entered, so that a path through two complaints' use of it, which
/// no walk takes, is not counted.
#[derive(Clone, Debug, Default)]
pub struct Reached {
    /// Nodes met, each with or without a safety look before it, or both.
    pub met: BTreeSet<Met>,
    /// `leave` nodes met with nowhere to come back to.
    pub stranded: BTreeSet<At>,
}

impl Reached {
    /// Walks every path from the start of a tree.
    #[must_use]
    pub fn from(knowledge: &Knowledge, tree: TreeIndex) -> Self {
        let mut walker = Walker {
            knowledge,
            met: BTreeSet::new(),
            exits: BTreeMap::new(),
        };
        let start = At {
            tree,
            node: knowledge.trees[tree].start,
        };
        let stranded = if knowledge.trees[tree].nodes.is_empty() {
            BTreeSet::new()
        } else {
            walker
                .exits((start, false))
                .into_iter()
                .map(|(at, _)| at)
                .collect()
        };
        Self {
            met: walker.met,
            stranded,
        }
    }

    /// Whether a node is met at all.
    #[must_use]
    pub fn meets(&self, at: At) -> bool {
        self.met.contains(&(at, false)) || self.met.contains(&(at, true))
    }

    /// Tests asked at some node met or picked from a pool of one, with the readings they rest on.
    #[must_use]
    pub fn tests(&self, knowledge: &Knowledge) -> BTreeSet<TestIndex> {
        let mut tests = BTreeSet::new();
        for (at, _) in &self.met {
            match &knowledge.trees[at.tree].nodes[at.node].kind {
                NodeKind::Test { test, .. } => add_with_readings(knowledge, *test, &mut tests),
                NodeKind::Narrow { pool, .. } => {
                    for test in pool {
                        add_with_readings(knowledge, *test, &mut tests);
                    }
                }
                _ => {}
            }
        }
        // What clears a hold is asked by itself when one of these waits for it.
        for hold in &knowledge.holds {
            let stops = |test: &TestIndex| hold.keeps_from(*test, &knowledge.tests[*test]);
            if tests.iter().any(stops) {
                for (proof, _) in &hold.cleared_by {
                    add_with_readings(knowledge, *proof, &mut tests);
                    tests.extend(knowledge.answered_at_once_by(*proof));
                }
            }
        }
        tests
    }
}

fn add_with_readings(knowledge: &Knowledge, test: TestIndex, tests: &mut BTreeSet<TestIndex>) {
    if tests.insert(test) {
        for reading in knowledge.tests[test].readings() {
            add_with_readings(knowledge, reading, tests);
        }
    }
}

struct Walker<'k> {
    knowledge: &'k Knowledge,
    met: BTreeSet<Met>,
    /// `leave` nodes reached from a start, filled when a start is first met. An entry that is still empty while
    /// it is being worked out belongs to a tree that goes through itself, which the rule on cycles reports.
    exits: BTreeMap<Met, BTreeSet<Met>>,
}

impl Walker<'_> {
    fn exits(&mut self, start: Met) -> BTreeSet<Met> {
        if let Some(known) = self.exits.get(&start) {
            return known.clone();
        }
        self.exits.insert(start, BTreeSet::new());
        let mut exits = BTreeSet::new();
        let mut seen = BTreeSet::from([start]);
        let mut waiting = vec![start];
        while let Some((at, safe)) = waiting.pop() {
            self.met.insert((at, safe));
            let mut next: Vec<Met> = Vec::new();
            match &self.knowledge.trees[at.tree].nodes[at.node].kind {
                NodeKind::Test { test, .. } => {
                    let safe = safe || self.knowledge.tests[*test].safety;
                    next.extend(ways_on(self.knowledge, at).into_iter().map(|at| (at, safe)));
                }
                NodeKind::Narrow { then, .. } => next.push((*then, safe)),
                NodeKind::Through { start, then } => {
                    let back = self.exits((*start, safe));
                    next.extend(back.into_iter().map(|(_, safe)| (*then, safe)));
                }
                NodeKind::Leave => {
                    exits.insert((at, safe));
                }
                NodeKind::Halt { .. } | NodeKind::Close => {}
            }
            for met in next {
                if seen.insert(met) {
                    waiting.push(met);
                }
            }
        }
        self.exits.insert(start, exits.clone());
        exits
    }
}

impl Tree {
    /// Whether a person can start here with a complaint.
    #[must_use]
    pub fn is_complaint(&self) -> bool {
        self.complaint.is_some()
    }
}

impl Test {
    /// Readings it is held against or calculated from.
    pub fn readings(&self) -> impl Iterator<Item = TestIndex> + '_ {
        use super::model::{BoundOf, InputFrom, TestKind};
        let held = self
            .outcomes
            .iter()
            .filter_map(|outcome| match outcome.bound.as_ref()?.of? {
                BoundOf::Reading(reading) => Some(reading),
                BoundOf::Fact(_) => None,
            });
        let inputs = match &self.kind {
            TestKind::Calculation { inputs, .. } => Some(inputs),
            _ => None,
        };
        let inputs = inputs
            .into_iter()
            .flat_map(|inputs| inputs.values())
            .filter_map(|from| match from {
                InputFrom::Reading(reading) => Some(*reading),
                _ => None,
            });
        held.chain(inputs)
    }

    /// Whether the equipment has power or flame while it is made.
    #[must_use]
    pub fn is_powered(&self) -> bool {
        self.state.is_powered()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::super::model::{Node, Outcome};
    use super::*;

    /// One node as sampled: what it does, and two forward steps.
    type Sampled = (u8, usize, usize);

    fn test(safety: bool) -> Test {
        let outcome = |id: &str| Outcome {
            id: id.to_owned(),
            usual: 0.5,
            ..Outcome::default()
        };
        Test {
            id: format!("safety-{safety}"),
            safety,
            outcomes: vec![outcome("a"), outcome("b")].into(),
            ..Test::blank()
        }
    }

    /// Trees without cycles: routes lead forward in a tree, and `through` leads into the trees after it.
    fn knowledge(drawn: &[Vec<Sampled>]) -> Knowledge {
        let trees = drawn.iter().enumerate().map(|(tree, nodes)| {
            let last = nodes.len();
            let at = |node: usize| At {
                tree: TreeIndex(tree),
                node: NodeIndex(node),
            };
            let mut made: Vec<Node> = Vec::new();
            for (place, (what, one, other)) in nodes.iter().enumerate() {
                let step = |step: usize| at((place + 1 + step).min(last));
                let kind = match what % 4 {
                    0 | 1 => NodeKind::Test {
                        test: TestIndex(usize::from(what % 4)),
                        to: vec![step(*one), step(*other)].into(),
                        unknown: step(*other),
                        absent: step(*one),
                    },
                    2 if tree + 1 < drawn.len() => {
                        let shared = TreeIndex(tree + 1 + one % (drawn.len() - tree - 1));
                        NodeKind::Through {
                            start: At {
                                tree: shared,
                                node: NodeIndex(0),
                            },
                            then: step(*other),
                        }
                    }
                    2 => NodeKind::Leave,
                    _ => NodeKind::Narrow {
                        pool: vec![TestIndex(0)],
                        all: false,
                        then: step(*one),
                    },
                };
                made.push(Node {
                    id: place.to_string(),
                    kind,
                });
            }
            let end = if tree == 0 {
                NodeKind::Close
            } else {
                NodeKind::Leave
            };
            made.push(Node {
                id: last.to_string(),
                kind: end,
            });
            Tree {
                id: tree.to_string(),
                complaint: (tree == 0).then(String::new),
                words: Vec::new(),
                fit: Default::default(),
                rank: 1,
                requires: Vec::new(),
                raises: Vec::new(),
                in_order: false,
                nodes: made.into(),
                start: NodeIndex(0),
            }
        });
        Knowledge {
            tests: vec![test(false), test(true)].into(),
            trees: trees.collect(),
            ..Knowledge::default()
        }
    }

    /// Every walk in full, with the places to come back to on a stack: slow, and plainly right.
    fn by_walking(knowledge: &Knowledge, met: Met, back: &[At], found: &mut Reached) {
        found.met.insert(met);
        let (at, safe) = met;
        match &knowledge.trees[at.tree].nodes[at.node].kind {
            NodeKind::Test {
                test,
                to,
                unknown,
                absent,
            } => {
                let safe = safe || knowledge.tests[*test].safety;
                for next in to.iter().chain([unknown, absent]) {
                    by_walking(knowledge, (*next, safe), back, found);
                }
            }
            NodeKind::Narrow { then, .. } => by_walking(knowledge, (*then, safe), back, found),
            NodeKind::Through { start, then } => {
                by_walking(knowledge, (*start, safe), &[back, &[*then]].concat(), found);
            }
            NodeKind::Leave => match back.split_last() {
                Some((then, rest)) => by_walking(knowledge, (*then, safe), rest, found),
                None => {
                    found.stranded.insert(at);
                }
            },
            NodeKind::Halt { .. } | NodeKind::Close => {}
        }
    }

    proptest! {
        #[test]
        fn what_is_reached_is_what_the_walks_meet(
            drawn in prop::collection::vec(prop::collection::vec((0u8..4, 0usize..3, 0usize..3), 0..6), 1..4),
        ) {
            let knowledge = knowledge(&drawn);
            let mut walked = Reached::default();
            let start = At { tree: TreeIndex(0), node: NodeIndex(0) };
            by_walking(&knowledge, (start, false), &[], &mut walked);
            let reached = Reached::from(&knowledge, TreeIndex(0));
            prop_assert_eq!(&reached.met, &walked.met);
            prop_assert_eq!(&reached.stranded, &walked.stranded);
            prop_assert!(!petgraph::algo::is_cyclic_directed(&routes(&knowledge)));
        }
    }

    /// A tree that goes through itself is a cycle, and following it ends all the same.
    #[test]
    fn a_tree_through_itself_ends() {
        let mut knowledge = knowledge(&[vec![(3, 0, 0)]]);
        let start = At {
            tree: TreeIndex(0),
            node: NodeIndex(0),
        };
        let then = At {
            tree: TreeIndex(0),
            node: NodeIndex(1),
        };
        knowledge.trees[TreeIndex(0)].nodes[NodeIndex(0)].kind = NodeKind::Through { start, then };
        let reached = Reached::from(&knowledge, TreeIndex(0));
        assert_eq!(reached.met, BTreeSet::from([(start, false)]));
        assert!(petgraph::algo::is_cyclic_directed(&routes(&knowledge)));
    }
}
