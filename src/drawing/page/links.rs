//! What leads back: from a cause to the tests that speak about it, from a test or fact to where it is used.

use crate::inference::matrix::{Field, Matrix};
use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    BoundOf, CauseIndex, EffectIndex, FactIndex, FamilyIndex, InputFrom, Knowledge, NodeKind, OutcomeIndex,
    RequirementIndex, TestIndex, TestKind, TreeIndex,
};

/// From this many times its share otherwise on, an outcome that names a cause finds it. Our choice, no source.
pub(super) const TIMES_OTHERWISE: f64 = 3.0;

/// One outcome that names a cause.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    pub(super) outcome: OutcomeIndex,
    /// P(outcome | cause).
    pub(super) share: f64,
    /// P(outcome) as usual.
    pub(super) otherwise: f64,
}

impl Found {
    /// Whether it finds the cause, or only says what its effects do not.
    pub(super) fn is_direct(&self) -> bool {
        self.share >= TIMES_OTHERWISE * self.otherwise
    }
}

/// The state of an effect that a cause raises most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Brought {
    pub(super) cause: CauseIndex,
    pub(super) state: usize,
    /// P(state | cause).
    pub(super) share: f64,
}

/// Links back, worked out once for the page.
pub(super) struct Links<'k> {
    /// What tests would show under each cause.
    pub(super) matrix: Matrix<'k>,
    /// By cause: each test that names it, with the outcomes that do.
    pub(super) found_by: Indexed<CauseIndex, Vec<(TestIndex, Vec<Found>)>>,
    /// By effect: the causes that speak of it themselves.
    pub(super) causes_of_effect: Indexed<EffectIndex, Vec<Brought>>,
    /// By effect: the families that speak of it.
    pub(super) families_of_effect: Indexed<EffectIndex, Vec<FamilyIndex>>,
    /// By effect: the tests that show it.
    pub(super) tests_of_effect: Indexed<EffectIndex, Vec<TestIndex>>,
    /// By effect: the effects that follow from it.
    pub(super) effects_of_effect: Indexed<EffectIndex, Vec<EffectIndex>>,
    /// By test: the trees that ask it, with the ids of the nodes.
    pub(super) trees_of_test: Indexed<TestIndex, Vec<(TreeIndex, Vec<String>)>>,
    /// By test: tests that are held against it or calculated from it.
    pub(super) built_on_test: Indexed<TestIndex, Vec<TestIndex>>,
    /// By tree: trees that go through it or on into it.
    pub(super) trees_of_tree: Indexed<TreeIndex, Vec<TreeIndex>>,
    /// By fact: tests that use it.
    pub(super) tests_of_fact: Indexed<FactIndex, Vec<TestIndex>>,
    /// By fact: requirements that use it.
    pub(super) requirements_of_fact: Indexed<FactIndex, Vec<RequirementIndex>>,
    /// By requirement: causes that ask for it.
    pub(super) causes_of_requirement: Indexed<RequirementIndex, Vec<CauseIndex>>,
    /// By requirement: trees that ask for it.
    pub(super) trees_of_requirement: Indexed<RequirementIndex, Vec<TreeIndex>>,
}

impl<'k> Links<'k> {
    /// Works them out.
    pub(super) fn new(knowledge: &'k Knowledge) -> Self {
        let mut links = Self {
            matrix: Matrix::new(knowledge, Field::default()),
            found_by: Indexed::like(&knowledge.causes, Vec::new()),
            causes_of_effect: Indexed::like(&knowledge.effects, Vec::new()),
            families_of_effect: Indexed::like(&knowledge.effects, Vec::new()),
            tests_of_effect: Indexed::like(&knowledge.effects, Vec::new()),
            effects_of_effect: Indexed::like(&knowledge.effects, Vec::new()),
            trees_of_test: Indexed::like(&knowledge.tests, Vec::new()),
            built_on_test: Indexed::like(&knowledge.tests, Vec::new()),
            trees_of_tree: Indexed::like(&knowledge.trees, Vec::new()),
            tests_of_fact: Indexed::like(&knowledge.facts, Vec::new()),
            requirements_of_fact: Indexed::like(&knowledge.facts, Vec::new()),
            causes_of_requirement: Indexed::like(&knowledge.requirements, Vec::new()),
            trees_of_requirement: Indexed::like(&knowledge.requirements, Vec::new()),
        };
        for (index, requirement) in knowledge.requirements.indexed() {
            for from in requirement.inputs.values() {
                if let InputFrom::Fact(fact) = from {
                    add(&mut links.requirements_of_fact[*fact], index);
                }
            }
        }
        for (index, cause) in knowledge.causes.indexed() {
            for requirement in &cause.requires {
                add(&mut links.causes_of_requirement[*requirement], index);
            }
        }
        for (index, test) in knowledge.tests.indexed() {
            links.add_test(knowledge, index);
            for reading in test.readings() {
                add(&mut links.built_on_test[reading], index);
            }
            for fact in facts_of(knowledge, index) {
                add(&mut links.tests_of_fact[fact], index);
            }
        }
        links.add_effects(knowledge);
        for tree in knowledge.trees.indices() {
            links.add_tree(knowledge, tree);
        }
        links
    }

    /// What the outcomes of a test show and find.
    fn add_test(&mut self, knowledge: &Knowledge, index: TestIndex) {
        let under = self.matrix.under();
        for (number, outcome) in knowledge.tests[index].outcomes.indexed() {
            for shown in &outcome.shows {
                add(&mut self.tests_of_effect[shown.effect], index);
            }
            for (cause, _) in &outcome.finds {
                let found = Found {
                    outcome: number,
                    share: under.row(Some(*cause), index)[number.place()],
                    otherwise: under.row(None, index)[number.place()],
                };
                let tests = &mut self.found_by[*cause];
                match tests.last_mut() {
                    Some((last, outcomes)) if *last == index => outcomes.push(found),
                    _ => tests.push((index, vec![found])),
                }
            }
        }
    }

    /// Who speaks of each effect, and what follows from it.
    fn add_effects(&mut self, knowledge: &Knowledge) {
        for (index, effect) in knowledge.effects.indexed() {
            if let Some(follows) = &effect.follows {
                add(&mut self.effects_of_effect[follows.effect], index);
            }
        }
        for (index, family) in knowledge.families.indexed() {
            for does in &family.does {
                add(&mut self.families_of_effect[does.effect], index);
            }
        }
        for (index, cause) in knowledge.causes.indexed() {
            for does in cause.does.iter().filter(|does| !does.from_family) {
                let effect = &knowledge.effects[does.effect];
                // Each complaint lists its causes with its tree.
                if effect.id == COMPLAINT {
                    continue;
                }
                let raised = |state: usize| {
                    let (share, usual) = (does.shares[state], effect.states[state].usual);
                    (share - usual) * (share / usual).ln() * f64::from(u8::from(share > usual))
                };
                let states = 0..effect.states.len();
                if let Some(state) = states.max_by(|a, b| raised(*a).total_cmp(&raised(*b))) {
                    self.causes_of_effect[does.effect].push(Brought {
                        cause: index,
                        state,
                        share: does.shares[state],
                    });
                }
            }
        }
    }

    fn add_tree(&mut self, knowledge: &Knowledge, tree: TreeIndex) {
        for requirement in &knowledge.trees[tree].requires {
            add(&mut self.trees_of_requirement[*requirement], tree);
        }
        for node in &knowledge.trees[tree].nodes {
            let tests: &[TestIndex] = match &node.kind {
                NodeKind::Test { test, .. } => std::slice::from_ref(test),
                NodeKind::Narrow { pool, all: false, .. } => pool,
                _ => &[],
            };
            for test in tests {
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
                    add(&mut self.trees_of_tree[goal.tree], tree);
                }
            }
        }
    }
}

/// Facts a test needs, is held against or is calculated from, each once.
pub(super) fn facts_of(knowledge: &Knowledge, test: TestIndex) -> Vec<FactIndex> {
    let test = &knowledge.tests[test];
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
