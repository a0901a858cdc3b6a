//! Causes by tests: which pairs of causes the tests tell apart, and how well.
//!
//! The figure for a pair and a test is the typical ratio of [`Telling`].
//!
//! Likelihoods are those with nothing answered ([`Under`]). Without one complaint to look at, what follows from the
//! complaint is left out: it is known before the first test, and no test tells it.

use std::collections::BTreeSet;

use crate::knowledge::graph::Reached;
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, EquipmentIndex, Knowledge, TestIndex, TreeIndex};

use super::telling::{Telling, telling};
use super::under::Under;

/// From this typical ratio on a test is said to tell two causes apart, where no other bar is asked for. Two answers
/// of this size make a leader of one of two equals at four to one. Our choice, no source.
pub const BAR: f64 = 2.0;

/// Which walks are looked at.
#[derive(Clone, Copy, Debug, Default)]
pub struct Field {
    /// Only this complaint.
    pub complaint: Option<TreeIndex>,
    /// Only this equipment.
    pub equipment: Option<EquipmentIndex>,
}

/// Two causes that can be behind one complaint on one kind of equipment.
#[derive(Clone, Debug)]
pub struct Pair {
    /// The one that stands first in the files.
    pub first: CauseIndex,
    /// The other one.
    pub second: CauseIndex,
    /// The test that tells most; nothing when no test says anything else about them.
    pub best: Option<Telling>,
    /// Tests that reach the bar, the most telling first.
    pub telling: Vec<TestIndex>,
}

/// Where a test is asked.
struct Asked {
    complaints: BTreeSet<TreeIndex>,
    equipment: BTreeSet<EquipmentIndex>,
}

/// The matrix of causes by tests, in some field.
pub struct Matrix<'k> {
    under: Under<'k>,
    /// By test.
    asked: Indexed<TestIndex, Asked>,
    /// By cause: the complaints of the field it is listed with.
    complaints: Indexed<CauseIndex, BTreeSet<TreeIndex>>,
    /// By cause: the equipment of the field it applies to.
    equipment: Indexed<CauseIndex, BTreeSet<EquipmentIndex>>,
}

impl<'k> Matrix<'k> {
    /// Works out every likelihood once.
    #[must_use]
    pub fn new(knowledge: &'k Knowledge, field: Field) -> Self {
        let trees: Vec<(TreeIndex, BTreeSet<TestIndex>)> = knowledge
            .trees
            .indices()
            .filter(|tree| knowledge.trees[*tree].is_complaint())
            .filter(|tree| field.complaint.is_none_or(|wanted| wanted == *tree))
            .map(|tree| (tree, Reached::from(knowledge, tree).tests(knowledge)))
            .collect();
        let kinds: Vec<EquipmentIndex> = knowledge
            .equipment
            .indices()
            .filter(|kind| field.equipment.is_none_or(|wanted| wanted == *kind))
            .collect();
        let asked = knowledge
            .tests
            .indexed()
            .map(|(index, test)| Asked {
                complaints: trees
                    .iter()
                    .filter(|(_, asked)| asked.contains(&index))
                    .map(|(tree, _)| *tree)
                    .collect(),
                equipment: kinds
                    .iter()
                    .filter(|kind| test.applies_to(&knowledge.equipment[**kind]))
                    .copied()
                    .collect(),
            })
            .collect();
        let complaints = knowledge
            .causes
            .indices()
            .map(|cause| {
                trees
                    .iter()
                    .filter(|(tree, _)| knowledge.is_behind(cause, *tree))
                    .map(|(tree, _)| *tree)
                    .collect()
            })
            .collect();
        let equipment = knowledge
            .causes
            .iter()
            .map(|cause| {
                kinds
                    .iter()
                    .filter(|kind| cause.applies_to(&knowledge.equipment[**kind]))
                    .copied()
                    .collect()
            })
            .collect();
        let kind = field.equipment.map(|kind| &knowledge.equipment[kind]);
        Self {
            under: Under::new(knowledge, field.complaint, kind),
            asked,
            complaints,
            equipment,
        }
    }

    /// Causes some complaint of the field lists and some equipment of the field can have.
    #[must_use]
    pub fn causes(&self) -> Vec<CauseIndex> {
        self.complaints
            .indices()
            .filter(|cause| !self.complaints[*cause].is_empty() && !self.equipment[*cause].is_empty())
            .collect()
    }

    /// Tests some complaint of the field asks on some equipment of the field.
    #[must_use]
    pub fn tests(&self) -> Vec<TestIndex> {
        self.asked
            .indexed()
            .filter(|(_, asked)| !asked.complaints.is_empty() && !asked.equipment.is_empty())
            .map(|(test, _)| test)
            .collect()
    }

    /// The likelihoods, and what makes them.
    #[must_use]
    pub fn under(&self) -> &Under<'k> {
        &self.under
    }

    /// What every test that a walk with a cause can ask says between it and what is usual, the most telling first. A
    /// cause no complaint of the field lists is far-fetched there, and all tests of the field count.
    #[must_use]
    pub fn tellings_alone(&self, cause: CauseIndex) -> Vec<Telling> {
        let mut complaints = self.complaints[cause].clone();
        if complaints.is_empty() {
            complaints.extend(self.asked.iter().flat_map(|asked| &asked.complaints));
        }
        self.tests_where(&complaints, &self.equipment[cause], |test| {
            telling(
                test,
                self.under.row(Some(cause), test),
                self.under.row(None, test),
            )
        })
    }

    /// Whether both can be behind one complaint of the field on one kind of equipment.
    #[must_use]
    pub fn can_meet(&self, first: CauseIndex, second: CauseIndex) -> bool {
        meet(&self.complaints[first], &self.complaints[second])
            && meet(&self.equipment[first], &self.equipment[second])
    }

    /// What every test that a walk with both can ask says between them, the most telling first; those that say
    /// nothing are left out.
    #[must_use]
    pub fn tellings(&self, first: CauseIndex, second: CauseIndex) -> Vec<Telling> {
        let complaints: BTreeSet<TreeIndex> = shared(&self.complaints[first], &self.complaints[second]);
        let equipment: BTreeSet<EquipmentIndex> = shared(&self.equipment[first], &self.equipment[second]);
        self.tests_where(&complaints, &equipment, |test| {
            telling(
                test,
                self.under.row(Some(first), test),
                self.under.row(Some(second), test),
            )
        })
    }

    /// What the tests asked on some complaint and some equipment of these say, the most telling first; of equally telling
    /// ones the first in the files.
    fn tests_where(
        &self,
        complaints: &BTreeSet<TreeIndex>,
        equipment: &BTreeSet<EquipmentIndex>,
        telling: impl Fn(TestIndex) -> Option<Telling>,
    ) -> Vec<Telling> {
        let mut tellings: Vec<Telling> = self
            .asked
            .indexed()
            .filter(|(_, asked)| meet(&asked.complaints, complaints) && meet(&asked.equipment, equipment))
            .filter_map(|(test, _)| telling(test))
            .collect();
        tellings.sort_by(|a, b| b.ratio.total_cmp(&a.ratio));
        tellings
    }

    /// Every pair that can meet, with its most telling test.
    #[must_use]
    pub fn pairs(&self, bar: f64) -> Vec<Pair> {
        let causes = self.causes();
        let mut pairs = Vec::new();
        for (place, first) in causes.iter().enumerate() {
            for second in &causes[place + 1..] {
                if self.can_meet(*first, *second) {
                    pairs.push(self.pair(*first, *second, bar));
                }
            }
        }
        pairs
    }

    /// One pair with its most telling test.
    #[must_use]
    pub fn pair(&self, first: CauseIndex, second: CauseIndex, bar: f64) -> Pair {
        let tellings = self.tellings(first, second);
        Pair {
            first,
            second,
            best: tellings.first().copied(),
            telling: tellings
                .iter()
                .filter(|telling| telling.ratio >= bar)
                .map(|telling| telling.test)
                .collect(),
        }
    }

    /// How many of some pairs each test of the field tells apart.
    #[must_use]
    pub fn told_apart(&self, pairs: &[Pair]) -> Vec<(TestIndex, usize)> {
        let mut told = Indexed::like(&self.asked, 0);
        for test in pairs.iter().flat_map(|pair| &pair.telling) {
            told[*test] += 1;
        }
        self.tests().into_iter().map(|test| (test, told[test])).collect()
    }
}

fn meet<T: Ord>(one: &BTreeSet<T>, other: &BTreeSet<T>) -> bool {
    !one.is_disjoint(other)
}

fn shared<T: Ord + Copy>(one: &BTreeSet<T>, other: &BTreeSet<T>) -> BTreeSet<T> {
    one.intersection(other).copied().collect()
}
