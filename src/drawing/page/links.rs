//! What leads back: from a cause to the tests that speak about it, from a test or fact to where it is used.

use crate::knowledge::model::{
    BoundOf, CauseIndex, FactIndex, InputFrom, Knowledge, NodeKind, OutcomeIndex, RequirementIndex, Sign,
    TestIndex, TestKind, TreeIndex,
};

/// One sign of a cause.
#[derive(Clone, Copy, Debug)]
pub(super) struct SignOf {
    /// The outcome that gives it.
    pub(super) outcome: OutcomeIndex,
    /// What it says.
    pub(super) sign: Sign,
}

/// Links back, worked out once for the page.
#[derive(Clone, Debug)]
pub(super) struct Links {
    /// By cause: each test that speaks about it, with its signs.
    pub(super) tests_of_cause: Vec<Vec<(TestIndex, Vec<SignOf>)>>,
    /// By test: the trees that ask it, with the ids of the nodes.
    pub(super) trees_of_test: Vec<Vec<(TreeIndex, Vec<String>)>>,
    /// By test: tests that are held against it or calculated from it.
    pub(super) built_on_test: Vec<Vec<TestIndex>>,
    /// By tree: trees that go through it or on into it.
    pub(super) trees_of_tree: Vec<Vec<TreeIndex>>,
    /// By fact: tests that use it.
    pub(super) tests_of_fact: Vec<Vec<TestIndex>>,
    /// By fact: requirements that use it.
    pub(super) requirements_of_fact: Vec<Vec<RequirementIndex>>,
    /// By requirement: causes that ask for it.
    pub(super) causes_of_requirement: Vec<Vec<CauseIndex>>,
    /// By requirement: trees that ask for it.
    pub(super) trees_of_requirement: Vec<Vec<TreeIndex>>,
}

impl Links {
    /// Works them out.
    pub(super) fn new(knowledge: &Knowledge) -> Self {
        let mut links = Self {
            tests_of_cause: vec![Vec::new(); knowledge.causes.len()],
            trees_of_test: vec![Vec::new(); knowledge.tests.len()],
            built_on_test: vec![Vec::new(); knowledge.tests.len()],
            trees_of_tree: vec![Vec::new(); knowledge.trees.len()],
            tests_of_fact: vec![Vec::new(); knowledge.facts.len()],
            requirements_of_fact: vec![Vec::new(); knowledge.facts.len()],
            causes_of_requirement: vec![Vec::new(); knowledge.requirements.len()],
            trees_of_requirement: vec![Vec::new(); knowledge.requirements.len()],
        };
        for (place, requirement) in knowledge.requirements.iter().enumerate() {
            for from in requirement.inputs.values() {
                if let InputFrom::Fact(FactIndex(fact)) = from {
                    add(&mut links.requirements_of_fact[*fact], RequirementIndex(place));
                }
            }
        }
        for (place, cause) in knowledge.causes.iter().enumerate() {
            for RequirementIndex(requirement) in &cause.requires {
                add(&mut links.causes_of_requirement[*requirement], CauseIndex(place));
            }
        }
        for (place, test) in knowledge.tests.iter().enumerate() {
            let index = TestIndex(place);
            for (outcome, known) in test.outcomes.iter().enumerate() {
                for (CauseIndex(cause), sign) in &known.signs {
                    let signs = &mut links.tests_of_cause[*cause];
                    if signs.last().is_none_or(|(last, _)| *last != index) {
                        signs.push((index, Vec::new()));
                    }
                    if let Some((_, signs)) = signs.last_mut() {
                        signs.push(SignOf {
                            outcome: OutcomeIndex(outcome),
                            sign: *sign,
                        });
                    }
                }
            }
            for TestIndex(reading) in test.readings() {
                add(&mut links.built_on_test[reading], index);
            }
            for FactIndex(fact) in facts_of(knowledge, index) {
                add(&mut links.tests_of_fact[fact], index);
            }
        }
        for tree in 0..knowledge.trees.len() {
            links.add_tree(knowledge, TreeIndex(tree));
        }
        links
    }

    fn add_tree(&mut self, knowledge: &Knowledge, tree: TreeIndex) {
        for RequirementIndex(requirement) in &knowledge.trees[tree.0].requires {
            add(&mut self.trees_of_requirement[*requirement], tree);
        }
        for node in &knowledge.trees[tree.0].nodes {
            let tests: &[TestIndex] = match &node.kind {
                NodeKind::Test { test, .. } => std::slice::from_ref(test),
                NodeKind::Narrow { pool, .. } => pool,
                _ => &[],
            };
            for TestIndex(test) in tests {
                let trees = &mut self.trees_of_test[*test];
                match trees.last_mut() {
                    Some((last, nodes)) if *last == tree => nodes.push(node.id.clone()),
                    _ => trees.push((tree, vec![node.id.clone()])),
                }
            }
            let goals = match &node.kind {
                NodeKind::Test {
                    to, unknown, absent, ..
                } => to.iter().copied().chain([*unknown, *absent]).collect(),
                NodeKind::Narrow { then, .. } => vec![*then],
                NodeKind::Through { start, then } => vec![*start, *then],
                _ => Vec::new(),
            };
            for goal in goals {
                if goal.tree != tree {
                    add(&mut self.trees_of_tree[goal.tree.0], tree);
                }
            }
        }
    }
}

/// Facts a test needs, is held against or is calculated from, each once.
pub(super) fn facts_of(knowledge: &Knowledge, test: TestIndex) -> Vec<FactIndex> {
    let test = &knowledge.tests[test.0];
    let mut facts = test.needs.clone();
    for outcome in &test.outcomes {
        if let Some(BoundOf::Fact(fact)) = outcome.bound.as_ref().and_then(|bound| bound.of) {
            add(&mut facts, fact);
        }
    }
    if let TestKind::Calculation { inputs, .. } = &test.kind {
        for from in inputs.values() {
            if let InputFrom::Fact(fact) = from {
                add(&mut facts, *fact);
            }
        }
    }
    facts
}

fn add<T: PartialEq>(list: &mut Vec<T>, one: T) {
    if !list.contains(&one) {
        list.push(one);
    }
}
