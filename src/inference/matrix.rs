//! Causes by tests: which pairs of causes the tests tell apart, and how well.
//!
//! The figure for a pair and a test is the *typical ratio*: how many times likelier the answer is, on the geometric
//! average, under the cause that is true than under the other one, half the time the one and half the time the
//! other. With P and Q the likelihoods of the outcomes under the two causes it is exp(J / 2), J = sum of
//! (P - Q) ln(P / Q), the symmetric divergence of Jeffreys, "An invariant form for the prior probability in
//! estimation problems", Proceedings of the Royal Society A 186 (1946), pages 453 to 461; also Kullback and
//! Leibler, "On information and sufficiency", Annals of Mathematical Statistics 22 (1951), section 4. A rare outcome
//! that would nearly prove one cause raises it only as often as that outcome is met. 1 says nothing.

use std::collections::BTreeSet;

use crate::knowledge::graph::Reached;
use crate::knowledge::model::{CauseIndex, EquipmentIndex, Knowledge, OutcomeIndex, TestIndex, TreeIndex};

use super::evidence::Likelihoods;

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

/// How one test bears on a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Telling {
    /// The test.
    pub test: TestIndex,
    /// The typical ratio, 1 or more.
    pub ratio: f64,
    /// The outcome that does most of it.
    pub outcome: OutcomeIndex,
    /// P(that outcome) under the first cause.
    pub first: f64,
    /// P(that outcome) under the second cause.
    pub second: f64,
}

/// Two causes that can be behind one complaint on one kind of equipment.
#[derive(Clone, Debug)]
pub struct Pair {
    /// The first, by order in the files.
    pub first: CauseIndex,
    /// The second.
    pub second: CauseIndex,
    /// The test that tells most; nothing when no test says anything else about them.
    pub best: Option<Telling>,
    /// Tests that reach the bar.
    pub telling: usize,
}

/// Likelihoods of one test for all causes, and where it is asked.
struct Column {
    /// P(outcome | cause) of each distinct row; the first is the usual one.
    rows: Vec<Vec<f64>>,
    /// Which row each cause has.
    row_of: Vec<usize>,
    complaints: BTreeSet<TreeIndex>,
    equipment: BTreeSet<EquipmentIndex>,
}

/// The matrix of causes by tests, in some field.
pub struct Matrix<'k> {
    knowledge: &'k Knowledge,
    columns: Vec<Column>,
    /// By cause: the complaints of the field that list it.
    complaints: Vec<BTreeSet<TreeIndex>>,
    /// By cause: the equipment of the field it applies to.
    equipment: Vec<BTreeSet<EquipmentIndex>>,
}

impl<'k> Matrix<'k> {
    /// Works out every likelihood once.
    #[must_use]
    pub fn new(knowledge: &'k Knowledge, field: Field) -> Self {
        let trees: Vec<(TreeIndex, BTreeSet<TestIndex>)> = (0..knowledge.trees.len())
            .map(TreeIndex)
            .filter(|tree| knowledge.trees[tree.0].is_complaint())
            .filter(|tree| field.complaint.is_none_or(|wanted| wanted == *tree))
            .map(|tree| (tree, Reached::from(knowledge, tree).tests(knowledge)))
            .collect();
        let kinds: Vec<EquipmentIndex> = (0..knowledge.equipment.len())
            .map(EquipmentIndex)
            .filter(|kind| field.equipment.is_none_or(|wanted| wanted == *kind))
            .collect();
        let columns = knowledge
            .tests
            .iter()
            .enumerate()
            .map(|(index, test)| {
                let likelihoods = Likelihoods::of(test, None, |cause| Some(cause.0));
                let mut rows = vec![likelihoods.usual().to_vec()];
                let mut row_of = vec![0; knowledge.causes.len()];
                for (cause, row) in likelihoods.rows() {
                    row_of[*cause] = rows.len();
                    rows.push(row.clone());
                }
                Column {
                    rows,
                    row_of,
                    complaints: trees
                        .iter()
                        .filter(|(_, asked)| asked.contains(&TestIndex(index)))
                        .map(|(tree, _)| *tree)
                        .collect(),
                    equipment: kinds
                        .iter()
                        .filter(|kind| test.applies_to(&knowledge.equipment[kind.0]))
                        .copied()
                        .collect(),
                }
            })
            .collect();
        let complaints = knowledge
            .causes
            .iter()
            .map(|cause| {
                trees
                    .iter()
                    .filter(|(tree, _)| cause.frequency.contains_key(&knowledge.trees[tree.0].id))
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
                    .filter(|kind| cause.applies_to(&knowledge.equipment[kind.0]))
                    .copied()
                    .collect()
            })
            .collect();
        Self {
            knowledge,
            columns,
            complaints,
            equipment,
        }
    }

    /// Causes some complaint of the field lists and some equipment of the field can have.
    #[must_use]
    pub fn causes(&self) -> Vec<CauseIndex> {
        (0..self.knowledge.causes.len())
            .filter(|cause| !self.complaints[*cause].is_empty() && !self.equipment[*cause].is_empty())
            .map(CauseIndex)
            .collect()
    }

    /// Tests some complaint of the field asks on some equipment of the field.
    #[must_use]
    pub fn tests(&self) -> Vec<TestIndex> {
        (0..self.columns.len())
            .filter(|test| {
                let column = &self.columns[*test];
                !column.complaints.is_empty() && !column.equipment.is_empty()
            })
            .map(TestIndex)
            .collect()
    }

    /// Tests of the field that bear on a cause at all.
    #[must_use]
    pub fn tests_with_a_sign(&self, cause: CauseIndex) -> usize {
        self.columns
            .iter()
            .filter(|column| {
                column.row_of[cause.0] != 0
                    && meet(&column.complaints, &self.complaints[cause.0])
                    && meet(&column.equipment, &self.equipment[cause.0])
            })
            .count()
    }

    /// Whether both can be behind one complaint of the field on one kind of equipment.
    #[must_use]
    pub fn can_meet(&self, first: CauseIndex, second: CauseIndex) -> bool {
        meet(&self.complaints[first.0], &self.complaints[second.0])
            && meet(&self.equipment[first.0], &self.equipment[second.0])
    }

    /// What every test that a walk with both can ask says between them, the most telling first; those that say
    /// nothing are left out.
    #[must_use]
    pub fn tellings(&self, first: CauseIndex, second: CauseIndex) -> Vec<Telling> {
        let complaints: BTreeSet<TreeIndex> = shared(&self.complaints[first.0], &self.complaints[second.0]);
        let equipment: BTreeSet<EquipmentIndex> = shared(&self.equipment[first.0], &self.equipment[second.0]);
        let mut tellings: Vec<Telling> = self
            .columns
            .iter()
            .enumerate()
            .filter(|(_, column)| {
                column.row_of[first.0] != column.row_of[second.0]
                    && meet(&column.complaints, &complaints)
                    && meet(&column.equipment, &equipment)
            })
            .filter_map(|(test, column)| {
                let one = &column.rows[column.row_of[first.0]];
                let other = &column.rows[column.row_of[second.0]];
                telling(TestIndex(test), one, other)
            })
            .collect();
        // Of equally telling ones the first in the files.
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
            telling: tellings.iter().filter(|telling| telling.ratio >= bar).count(),
        }
    }

    /// How many of the pairs that can meet each test of the field tells apart.
    #[must_use]
    pub fn pairs_told_apart(&self, bar: f64) -> Vec<(TestIndex, usize)> {
        let causes = self.causes();
        let mut told = vec![0; self.columns.len()];
        for (place, first) in causes.iter().enumerate() {
            for second in &causes[place + 1..] {
                if self.can_meet(*first, *second) {
                    for telling in self.tellings(*first, *second) {
                        if telling.ratio >= bar {
                            told[telling.test.0] += 1;
                        }
                    }
                }
            }
        }
        self.tests()
            .into_iter()
            .map(|test| (test, told[test.0]))
            .collect()
    }
}

/// A test's figure for two rows; nothing when they are the same.
fn telling(test: TestIndex, one: &[f64], other: &[f64]) -> Option<Telling> {
    let parts: Vec<f64> = one
        .iter()
        .zip(other)
        .map(|(p, q)| {
            if *p > 0.0 && *q > 0.0 {
                (p - q) * (p / q).ln()
            } else {
                0.0
            }
        })
        .collect();
    let divergence: f64 = parts.iter().sum();
    // Rows that differ by rounding only say nothing.
    const NOTHING: f64 = 1e-9;
    if divergence < NOTHING {
        return None;
    }
    let most = (0..parts.len()).max_by(|a, b| parts[*a].total_cmp(&parts[*b]))?;
    Some(Telling {
        test,
        ratio: (divergence / 2.0).exp(),
        outcome: OutcomeIndex(most),
        first: one[most],
        second: other[most],
    })
}

fn meet<T: Ord>(one: &BTreeSet<T>, other: &BTreeSet<T>) -> bool {
    !one.is_disjoint(other)
}

fn shared<T: Ord + Copy>(one: &BTreeSet<T>, other: &BTreeSet<T>) -> BTreeSet<T> {
    one.intersection(other).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two outcomes at 0.8 and 0.2 against 0.2 and 0.8: the answer is four times likelier under the true cause
    /// with probability 0.8 and a quarter as likely with 0.2, so the mean log ratio is 0.6 ln 4.
    #[test]
    fn the_typical_ratio_is_the_geometric_mean_under_the_true_cause() {
        let telling = telling(TestIndex(0), &[0.8, 0.2], &[0.2, 0.8]).unwrap();
        assert!((telling.ratio - 4.0_f64.powf(0.6)).abs() < 1e-12, "{telling:?}");
    }

    #[test]
    fn the_same_row_says_nothing_and_the_order_does_not_matter() {
        assert_eq!(telling(TestIndex(0), &[0.3, 0.7], &[0.3, 0.7]), None);
        let there = telling(TestIndex(0), &[0.3, 0.6, 0.1], &[0.1, 0.1, 0.8]).unwrap();
        let back = telling(TestIndex(0), &[0.1, 0.1, 0.8], &[0.3, 0.6, 0.1]).unwrap();
        assert!((there.ratio - back.ratio).abs() < 1e-12);
        assert_eq!(there.outcome, OutcomeIndex(2));
    }
}
