//! Whether a hold is up, by what was found.

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    Bound, BoundOf, Equipment, FactIndex, Hold, HoldIndex, OutcomeIndex, TestIndex, bound_figure,
};
use crate::quantity::{Kind, Quantity, ValueKind};

use super::answers::Answer;
use super::calculate::Resolution;
use super::found::Found;

/// Share of an answer that must fall on clearing outcomes, when a reading lies near a limit. Our choice, no source.
const SURELY: f64 = 0.95;

/// What has not this part is made for 277 V at most, so that more than this many volts are never on its plate.
const THREE_PHASE: &str = "three-phase";
const SINGLE_PHASE: f64 = 300.0;

/// Steps in which what a plate can say is tried, where nobody could read it.
const STEPS: u8 = 8;

/// What became of a hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stand {
    /// Not up, or cleared.
    Down,
    /// Up, and this proof was not asked yet.
    Wants(TestIndex),
    /// Up, and nothing more to ask that would clear it.
    Up,
}

impl Found<'_> {
    /// How every hold stands, in the order of the files.
    pub(super) fn stands(&self) -> Indexed<HoldIndex, Stand> {
        self.knowledge
            .holds
            .indices()
            .map(|index| self.stand(index))
            .collect()
    }

    fn stand(&self, index: HoldIndex) -> Stand {
        let hold = &self.knowledge.holds[index];
        if !self.installation().is_some_and(|own| hold.applies_to(own)) {
            return Stand::Down;
        }
        let raised = self.raised_at(index);
        if raised.is_none() && !hold.from_start {
            return Stand::Down;
        }
        let proofs = || hold.cleared_by.iter().filter(|(test, _)| self.applies(*test));
        if proofs().next().is_none() {
            return Stand::Up;
        }
        let mut open = Vec::new();
        for (test, outcomes) in proofs() {
            if self.is_stale(hold, *test, raised) {
                open.push(*test);
            } else if !self.is_surely(*test, outcomes) {
                return Stand::Up;
            }
        }
        let Some(first) = open.first() else {
            return Stand::Down;
        };
        Stand::Wants(self.at_once(&open).unwrap_or(*first))
    }

    /// A look not yet asked that answers several open proofs at once.
    fn at_once(&self, open: &[TestIndex]) -> Option<TestIndex> {
        if open.len() < 2 {
            return None;
        }
        let mut looks = self.knowledge.tests.indexed().filter(|(index, look)| {
            let answers = |proof: &&TestIndex| look.at_once.iter().any(|(other, _)| other == *proof);
            self.applies(*index)
                && !self.answers.contains_key(index)
                && open.iter().filter(answers).count() > 1
        });
        looks.next().map(|(index, _)| index)
    }

    /// Place in the list of given events at which the hold was last raised; 0 for the complaint.
    pub(super) fn raised_at(&self, index: HoldIndex) -> Option<usize> {
        let knowledge = self.knowledge;
        let complaint = self
            .complaint()
            .filter(|tree| knowledge.trees[*tree].raises.contains(&index))
            .map(|_| 0);
        let visit = self.visited.filter(|_| knowledge.holds[index].each_visit);
        complaint
            .into_iter()
            .chain(self.raised_by(index).map(|(_, _, at)| at))
            .chain(visit)
            .chain(self.raised_whatever_the_plate(index))
            .max()
    }

    /// The outcomes by which a hold is up, each with its test and its place in the list of given events.
    pub(super) fn raised_by(
        &self,
        index: HoldIndex,
    ) -> impl Iterator<Item = (TestIndex, OutcomeIndex, usize)> {
        let knowledge = self.knowledge;
        let hold = &knowledge.holds[index];
        // Where proofs alone take it down, "none of these" given the next day does not.
        let before = self.found_before().filter(|_| hold.proved_anew);
        self.ever_found()
            .chain(before)
            .filter_map(move |(finding, taken)| {
                let outcomes = &knowledge.tests[finding.test].outcomes;
                let raises = |outcome: &OutcomeIndex| outcomes[*outcome].raises.contains(&index);
                // A reading this near to a limit is taken for the worse side of it.
                let near = || {
                    let bad = || outcomes.indices().filter(raises);
                    let share: f64 = bad().map(|outcome| finding.share(outcome)).sum();
                    bad().next().filter(|_| taken.read && share > 1.0 - SURELY)
                };
                let outcome = Some(finding.outcome).filter(raises).or_else(near)?;
                Some((finding.test, outcome, taken.at))
            })
    }

    /// Places of the readings whose outcome cannot be told, because nobody knows what they are held against, and that raise a
    /// hold whatever that is.
    fn raised_whatever_the_plate(&self, index: HoldIndex) -> impl Iterator<Item = usize> {
        // Of what was answered only: this is asked of every hold at every step.
        self.answers.keys().copied().filter_map(move |test| {
            let reading = self.reading(test).filter(|_| self.applies(test))?;
            if self.classify(test, reading).is_some() {
                return None;
            }
            let outcomes = &self.knowledge.tests[test].outcomes;
            let raises = (0..=STEPS).all(|step| {
                let figure = |bound: &Bound| match bound.of {
                    Some(BoundOf::Fact(fact)) => self
                        .figure(bound)
                        .or_else(|| bound_figure(bound, Some(self.could_be(fact, step)?))),
                    _ => self.figure(bound),
                };
                let outcome = self.classify_by(test, reading, &figure);
                outcome.is_some_and(|outcome| outcomes[outcome].raises.contains(&index))
            });
            self.answered_at(test).filter(|_| raises)
        })
    }

    /// One of the values a fact can have on this equipment.
    fn could_be(&self, fact: FactIndex, step: u8) -> Option<Quantity> {
        let fact = &self.knowledge.facts[fact];
        let (ValueKind::Quantity(kind), Some((low, high))) = (fact.kind, fact.range) else {
            return None;
        };
        let single = |own: &Equipment| !own.parts.iter().any(|part| part == THREE_PHASE);
        let is_narrow = kind == Kind::Voltage && self.installation().is_some_and(single);
        let most = if is_narrow { high.min(SINGLE_PHASE) } else { high };
        Quantity::new(kind, low + f64::from(step) / f64::from(STEPS) * (most - low))
    }

    /// Whether a test came out in one of these; whoever is not sure of an answer has not proved it, whichever it is.
    pub(super) fn is_surely(&self, test: TestIndex, outcomes: &[OutcomeIndex]) -> bool {
        let unsure = matches!(self.answers.get(&test), Some(Answer::Leaning(_)));
        !unsure
            && self
                .findings()
                .iter()
                .find(|finding| finding.test == test)
                .is_some_and(|finding| outcomes.iter().map(|o| finding.share(*o)).sum::<f64>() >= SURELY)
    }

    /// Whether a proof was not given, or before the hold was raised where it must be given anew.
    pub(super) fn is_stale(&self, hold: &Hold, proof: TestIndex, raised: Option<usize>) -> bool {
        let given_before = self.found_at(proof).is_some_and(|at| Some(at) < raised);
        self.resolution(proof) == Resolution::Open || (hold.proved_anew && given_before)
    }
}
