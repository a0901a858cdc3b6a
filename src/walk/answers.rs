//! First phase: what was given, its ids resolved; corrections have replaced what they correct.

use rustc_hash::FxHashMap;

use crate::inference::meter;
use crate::knowledge::model::{
    Bound, BoundOf, Equipment, EquipmentIndex, FactIndex, InputFrom, Knowledge, OutcomeIndex, State, Test,
    TestIndex, TestKind, TreeIndex, bound_figure,
};
use crate::quantity::{Quantity, Value, ValueKind};

use super::pace::Pace;
use super::{Event, Given};

/// An answer with its ids resolved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Answer {
    Outcome(OutcomeIndex),
    Leaning(OutcomeIndex),
    Reading(Quantity),
    CouldNotCheck,
}

/// What was given.
#[derive(Clone, Debug)]
pub struct Answers<'k> {
    pub(super) knowledge: &'k Knowledge,
    pub(super) complaint: Option<TreeIndex>,
    equipment: Option<EquipmentIndex>,
    /// The equipment with the accessories that are fitted, or with all that can be.
    pub(super) installation: Option<Equipment>,
    /// Accessories were asked for.
    accessories_asked: bool,
    /// Somebody said which are fitted.
    accessories_said: bool,
    /// Some test was asked.
    pub(super) begun: bool,
    facts: FxHashMap<FactIndex, Option<Value>>,
    pub(super) answers: FxHashMap<TestIndex, Answer>,
    /// Outcomes that were given together with the one of the answer.
    also: FxHashMap<TestIndex, Vec<OutcomeIndex>>,
    /// Place in the entries of the answer that counts, by test.
    answered_at: FxHashMap<TestIndex, usize>,
    /// The last answer to a test that could not be checked when it was asked again, with its place: it tells of no cause any
    /// more, but a danger does not pass because nobody could look a second time.
    pub(super) not_made_again: FxHashMap<TestIndex, (usize, Answer)>,
    /// What was answered otherwise before, with its place: a danger that was told does not pass because another answer was given.
    pub(super) earlier: Vec<(TestIndex, usize, Answer)>,
    /// Place of the last further visit.
    pub(super) visited: Option<usize>,
    /// Place of the last danger that the case before left standing.
    pub(super) left: Option<usize>,
    acknowledged: Option<State>,
    /// How far the walk has come.
    pub(super) pace: Pace,
}

impl<'k> Answers<'k> {
    /// Reads off what was given, oldest first.
    pub(super) fn of(knowledge: &'k Knowledge, entries: &[Event]) -> Self {
        let mut given = Self {
            knowledge,
            complaint: None,
            equipment: None,
            installation: None,
            accessories_asked: false,
            accessories_said: false,
            begun: false,
            facts: FxHashMap::default(),
            answers: FxHashMap::default(),
            also: FxHashMap::default(),
            answered_at: FxHashMap::default(),
            not_made_again: FxHashMap::default(),
            earlier: Vec::new(),
            visited: None,
            left: None,
            acknowledged: None,
            pace: Pace::of(knowledge, entries),
        };
        let mut accessories = None;
        for (place, entry) in entries.iter().enumerate() {
            match entry {
                Event::Complaint { complaint } => given.complaint = knowledge.tree(complaint),
                Event::Equipment { equipment } => given.equipment = knowledge.equipment(equipment),
                Event::Accessories { fitted } => {
                    given.accessories_asked = true;
                    given.accessories_said = fitted.is_some();
                    accessories = fitted.as_deref();
                }
                Event::Visit { .. } if !given.answers.is_empty() => given.visited = Some(place),
                Event::LeftStanding { test, outcome } => {
                    let found = Given::Outcome(outcome.clone());
                    if let Some((test, answer, _)) = resolve(knowledge, test, &found) {
                        given.earlier.push((test, place, answer));
                        given.not_made_again.insert(test, (place, answer));
                        given.left = Some(place);
                    }
                }
                Event::Acknowledged { state, .. } => given.acknowledged = Some(*state),
                Event::Fact { fact, value, .. } => {
                    if let Some(fact) = knowledge.fact(fact) {
                        given.facts.insert(fact, value.clone());
                    }
                }
                Event::Answer {
                    test,
                    given: answer,
                    volunteered,
                    ..
                } => {
                    given.begun |= !volunteered;
                    if let Some((test, answer, also)) = resolve(knowledge, test, answer) {
                        given.take_at_once(test, answer, place);
                        given.take(test, answer, place);
                        given.also.insert(test, also);
                    }
                }
                _ => {}
            }
        }
        given.installation = given.equipment.map(|kind| {
            let kind = &knowledge.equipment[kind];
            accessories.map_or_else(|| kind.clone(), |fitted| kind.fitted_with(fitted))
        });
        if let Some(own) = &given.installation {
            settled(knowledge, own, &mut given.facts);
        }
        given
    }

    fn take(&mut self, test: TestIndex, answer: Answer, place: usize) {
        let earlier = self.answers.insert(test, answer);
        let at = self.answered_at.insert(test, place);
        if let (Some(earlier), Some(at)) = (earlier, at) {
            self.earlier.push((test, at, earlier));
        }
        match (earlier, at) {
            _ if answer != Answer::CouldNotCheck => {
                self.not_made_again.remove(&test);
            }
            (Some(earlier), Some(at)) if earlier != Answer::CouldNotCheck => {
                self.not_made_again.insert(test, (at, earlier));
            }
            _ => {}
        }
    }

    /// Takes what an answer says of other looks, where they were not answered by themselves; what an earlier one said goes with it.
    fn take_at_once(&mut self, test: TestIndex, answer: Answer, place: usize) {
        let before = self.answered_at(test);
        for (other, outcome) in &self.knowledge.tests[test].at_once {
            if before.is_some() && self.answered_at(*other) == before {
                self.answers.remove(other);
                self.answered_at.remove(other);
            }
            let open = matches!(self.answers.get(other), None | Some(Answer::CouldNotCheck));
            if open && !self.not_made_again.contains_key(other) && answer == Answer::Outcome(Test::ALL_WELL) {
                self.take(*other, Answer::Outcome(*outcome), place);
            }
        }
    }

    /// The knowledge it is walked with.
    #[must_use]
    pub fn knowledge(&self) -> &'k Knowledge {
        self.knowledge
    }

    /// The complaint, once given.
    #[must_use]
    pub fn complaint(&self) -> Option<TreeIndex> {
        self.complaint
    }

    /// The equipment, once given.
    #[must_use]
    pub fn equipment(&self) -> Option<EquipmentIndex> {
        self.equipment
    }

    /// The equipment of this installation, once given: with the accessories that are fitted, or, where that is not
    /// known, with all that can be.
    #[must_use]
    pub fn installation(&self) -> Option<&Equipment> {
        self.installation.as_ref()
    }

    /// Whether it is still to be asked what is fitted besides. A case that went on without is not asked afterward.
    pub(super) fn wants_accessories(&self) -> bool {
        let fitting = self.installation().is_some_and(|own| !own.accessories.is_empty());
        fitting && !self.accessories_asked && !self.begun
    }

    /// Whether all these parts are known to be there: those of the kind, and accessories somebody said are fitted. Where nobody
    /// said, all that can be fitted are considered, but advice that names one would send a person to what may not be there.
    #[must_use]
    pub fn is_known_to_have(&self, parts: &[String]) -> bool {
        self.installation().is_some_and(|own| {
            let there = |part: &String| {
                own.parts.contains(part) && (self.accessories_said || !own.accessories.contains(part))
            };
            parts.iter().all(there)
        })
    }

    /// The value of a fact: nothing when it was not asked, `Some(None)` when it could not be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<Option<&Value>> {
        self.facts.get(&fact).map(Option::as_ref)
    }

    /// The reading given for a test.
    #[must_use]
    pub fn reading(&self, test: TestIndex) -> Option<Quantity> {
        match self.answers.get(&test) {
            Some(Answer::Reading(quantity)) => Some(*quantity),
            _ => None,
        }
    }

    /// Outcomes of a test that were given together with the first of its answer.
    pub(super) fn also(&self, test: TestIndex) -> &[OutcomeIndex] {
        self.also.get(&test).map_or(&[], Vec::as_slice)
    }

    /// Every outcome picked for a test, where more than one can be.
    #[must_use]
    pub fn picked(&self, test: TestIndex) -> Vec<OutcomeIndex> {
        match self.answers.get(&test) {
            Some(Answer::Outcome(first)) => std::iter::once(*first)
                .chain(self.also(test).iter().copied())
                .collect(),
            _ => Vec::new(),
        }
    }

    /// Place in the list of given events of the answer that counts for a test.
    pub(super) fn answered_at(&self, test: TestIndex) -> Option<usize> {
        self.answered_at.get(&test).copied()
    }

    /// The same for what was found by a test; what is calculated is as new as the last reading it is made from.
    pub(super) fn found_at(&self, test: TestIndex) -> Option<usize> {
        match &self.knowledge.tests[test].kind {
            TestKind::Calculation { inputs, .. } => {
                let readings = inputs.values().filter_map(|from| match from {
                    InputFrom::Reading(reading) => self.answered_at(*reading),
                    InputFrom::Fact(_) | InputFrom::Fixed(_) => None,
                });
                readings.max()
            }
            _ => self.answered_at(test),
        }
    }

    /// The state the equipment was last brought into, as far as the walk knows.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.acknowledged
    }

    /// How a reading is shared between the outcomes by the meter's error; nothing when it is clear of every limit.
    pub(super) fn shares_of(&self, test: TestIndex, quantity: Quantity) -> Option<Vec<f64>> {
        let outcomes = &self.knowledge.tests[test].outcomes;
        let mut figures = Vec::new();
        for bound in outcomes.iter().filter_map(|outcome| outcome.bound.as_ref()) {
            figures.push(self.figure(bound)?);
        }
        figures.sort_by(f64::total_cmp);
        let spread = meter::standard_uncertainty(quantity);
        let pieces = meter::shares(quantity.base, spread, &figures);
        let mut shares = vec![0.0; outcomes.len()];
        for (middle, share) in pieces {
            let part = Quantity::new(quantity.kind, middle)?;
            shares[self.classify(test, part)?.place()] += share;
        }
        // The far tail of a reading well inside its outcome is noise of the arithmetic, not doubt.
        let clear = shares.iter().any(|share| *share > 1.0 - 1e-6);
        (!clear).then_some(shares)
    }

    /// The figure a bound stands for, once what it multiplies is known.
    pub(super) fn figure(&self, bound: &Bound) -> Option<f64> {
        let of = match bound.of {
            None => None,
            Some(BoundOf::Fact(fact)) => match self.facts.get(&fact) {
                Some(Some(Value::Quantity(value))) => Some(*value),
                _ => return None,
            },
            Some(BoundOf::Reading(other)) => Some(self.reading(other)?),
        };
        bound_figure(bound, of)
    }

    /// Whether a test makes sense on this equipment.
    #[must_use]
    pub fn applies(&self, test: TestIndex) -> bool {
        self.installation()
            .is_some_and(|own| self.knowledge.tests[test].applies_to(own))
    }

    /// The outcome a reading falls into, or nothing when a figure it is held against is not known.
    ///
    /// A reading exactly at a bound belongs to neither side of it: below means less than, above more than.
    pub(super) fn classify(&self, test: TestIndex, quantity: Quantity) -> Option<OutcomeIndex> {
        self.classify_by(test, quantity, &|bound| self.figure(bound))
    }

    /// The same with the figures of its limits from elsewhere.
    pub(super) fn classify_by(
        &self,
        test: TestIndex,
        quantity: Quantity,
        figure: &dyn Fn(&Bound) -> Option<f64>,
    ) -> Option<OutcomeIndex> {
        let mut rest = None;
        for (index, outcome) in self.knowledge.tests[test].outcomes.indexed() {
            let Some(bound) = &outcome.bound else {
                rest = Some(index);
                continue;
            };
            let figure = figure(bound)?;
            if (bound.below && quantity.base < figure) || (!bound.below && quantity.base > figure) {
                return Some(index);
            }
        }
        rest
    }
}

fn resolve(
    knowledge: &Knowledge,
    test: &str,
    given: &Given,
) -> Option<(TestIndex, Answer, Vec<OutcomeIndex>)> {
    let test = knowledge.test(test)?;
    let mut also = Vec::new();
    let answer = match given {
        Given::Outcomes(outcomes) => {
            let mut known = outcomes
                .iter()
                .filter_map(|outcome| knowledge.tests[test].outcome(outcome));
            let first = known.next()?;
            also.extend(known);
            Answer::Outcome(first)
        }
        Given::Outcome(outcome) => Answer::Outcome(knowledge.tests[test].outcome(outcome)?),
        Given::Leaning(outcome) => Answer::Leaning(knowledge.tests[test].outcome(outcome)?),
        Given::Reading(quantity) => Answer::Reading(*quantity),
        Given::CouldNotCheck => Answer::CouldNotCheck,
    };
    Some((test, answer, also))
}

/// Facts of which only one choice fits the equipment: nobody need be asked.
fn settled(knowledge: &Knowledge, own: &Equipment, facts: &mut FxHashMap<FactIndex, Option<Value>>) {
    for (index, fact) in knowledge.facts.indexed() {
        if fact.kind != ValueKind::Choice || !fact.applies_to(own) {
            continue;
        }
        let mut fitting = fact.choices.iter().filter(|choice| choice.fit.fits(own));
        if let (Some(only), None) = (fitting.next(), fitting.next()) {
            facts
                .entry(index)
                .or_insert_with(|| Some(Value::Choice(only.id.clone())));
        }
    }
}
