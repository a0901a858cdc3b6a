//! The state of a walk: the given events, and everything worked out from them.

use std::collections::HashMap;
use std::rc::Rc;

use thiserror::Error;

use crate::files;
use crate::inference::learn::Counts;
use crate::inference::{Finding, Model, Standing, meter};
use crate::knowledge::model::{
    Bound, BoundOf, Equipment, EquipmentIndex, FactIndex, Knowledge, OutcomeIndex, State, TestIndex,
    TestKind, TreeIndex, bound_figure,
};
use crate::quantity::{Quantity, Value};

use super::calculate::{self, Calculated};
use super::holds::Stand;
use super::pace::Pace;
use super::{Event, Given, Question, choices, route, take_back};

/// An id in a kept event that the knowledge does not have (any more).
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("the knowledge has no {what} `{id}`")]
pub struct UnknownId {
    /// "test", "fact" and so on.
    pub what: &'static str,
    /// The id.
    pub id: String,
}

/// How many times likelier the outcome leaned to is than any other, when the person says "I think so".
///
/// About a strong sign in the table of strengths: who says so has seen something. Our choice, no source; on the invented accounts
/// that may be studied it puts the true cause first oftener than the 3 it was before (`tests/second_reader/`).
const LEANING: f64 = 8.0;

/// An answer with its ids resolved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Answer {
    Outcome(OutcomeIndex),
    Leaning(OutcomeIndex),
    Reading(Quantity),
    CouldNotCheck,
}

/// What is known of a test's outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resolution {
    /// Not asked, or a calculation whose inputs are not all asked.
    Open,
    /// Asked, but without an outcome: could not be checked, or the figures cannot tell.
    Unknown,
    /// This outcome.
    Known(OutcomeIndex),
}

/// A violated limit or damage that a test has shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DefectFound {
    /// The test.
    pub test: TestIndex,
    /// The outcome that is the defect.
    pub outcome: OutcomeIndex,
    /// It was seen or measured for sure; not merely thought so, nor within the meter's error of the limit.
    pub sure: bool,
}

/// Everything that follows from the given events.
#[derive(Clone, Debug)]
pub(super) struct Derived {
    pub(super) complaint: Option<TreeIndex>,
    pub(super) equipment: Option<EquipmentIndex>,
    /// The equipment with the accessories that are fitted, or with all that can be.
    pub(super) installation: Option<Equipment>,
    /// Accessories were asked for.
    pub(super) accessories_asked: bool,
    pub(super) facts: HashMap<FactIndex, Option<Value>>,
    pub(super) answers: HashMap<TestIndex, Answer>,
    /// Place in the entries of the answer that counts, by test.
    pub(super) answered_at: HashMap<TestIndex, usize>,
    pub(super) acknowledged: Option<State>,
    pub(super) resolutions: Vec<Resolution>,
    pub(super) calculated: Vec<Calculated>,
    pub(super) findings: Vec<Finding>,
    pub(super) model: Option<Rc<Model>>,
    pub(super) standing: Option<Standing>,
    /// How far the walk has come.
    pub(super) pace: Pace,
    /// How each hold stands.
    pub(super) stands: Vec<Stand>,
    pub(super) question: Question,
    /// Tests of the nodes passed so far, sorted.
    pub(super) passed: Vec<TestIndex>,
}

/// One run through a tree.
#[derive(Clone, Debug)]
pub struct Walk<'k> {
    pub(super) knowledge: &'k Knowledge,
    /// The events that make the state; what was taken back is gone from here.
    entries: Vec<Event>,
    notes: Vec<String>,
    stopped: bool,
    finished: bool,
    closing: Option<Event>,
    counts: Option<Counts>,
    pub(super) derived: Derived,
}

impl<'k> Walk<'k> {
    /// Begins a walk: the first question is the complaint.
    #[must_use]
    pub fn new(knowledge: &'k Knowledge) -> Self {
        let derived = Derived {
            complaint: None,
            equipment: None,
            installation: None,
            accessories_asked: false,
            facts: HashMap::new(),
            answers: HashMap::new(),
            answered_at: HashMap::new(),
            acknowledged: None,
            resolutions: vec![Resolution::Open; knowledge.tests.len()],
            calculated: Vec::new(),
            findings: Vec::new(),
            model: None,
            standing: None,
            pace: Pace::default(),
            stands: vec![Stand::Down; knowledge.holds.len()],
            question: Question::Complaint,
            passed: Vec::new(),
        };
        Self {
            knowledge,
            entries: Vec::new(),
            notes: Vec::new(),
            stopped: false,
            finished: false,
            closing: None,
            counts: None,
            derived,
        }
    }

    /// The same walk with cause frequencies learned from a shop's confirmed cases.
    #[must_use]
    pub fn learned(mut self, counts: Counts) -> Self {
        self.counts = Some(counts);
        self.derived.model = None;
        self.derive();
        self
    }

    /// The counts the frequencies are learned from, when there are any.
    #[must_use]
    pub fn counts(&self) -> Option<&Counts> {
        self.counts.as_ref()
    }

    /// Tells the learned frequencies from others: SHA-256 of their JSON, 64 hexadecimal digits. Nothing when there are
    /// none.
    #[must_use]
    pub fn learned_from(&self) -> Option<String> {
        let counts = self.counts.as_ref()?;
        // Counts are numbers by text, so their JSON can always be made.
        Some(files::sha256(&serde_json::to_vec(counts).unwrap_or_default()))
    }

    /// What was found in the end, once the case is closed: an [`Event::Closed`].
    #[must_use]
    pub fn closing(&self) -> Option<&Event> {
        self.closing.as_ref()
    }

    /// Takes an event into the state. Derived events change nothing.
    ///
    /// # Errors
    /// When a given event names an id the knowledge does not have; the walk is then unchanged.
    pub fn apply(&mut self, event: &Event) -> Result<(), UnknownId> {
        if self.record(event)? {
            self.derive();
        }
        Ok(())
    }

    /// Takes many events into the state, as [`Walk::apply`] does one by one, but works out only once what follows:
    /// a long case would otherwise take its length times as long. Gives back the unknown ids; an event that names
    /// one is left out.
    pub fn apply_all<'e>(&mut self, events: impl IntoIterator<Item = &'e Event>) -> Vec<UnknownId> {
        let mut unknown = Vec::new();
        let mut changed = false;
        for event in events {
            match self.record(event) {
                Ok(moves) => changed |= moves,
                Err(error) => unknown.push(error),
            }
        }
        if changed {
            self.derive();
        }
        unknown
    }

    /// Records an event without working out what follows; whether anything does.
    fn record(&mut self, event: &Event) -> Result<bool, UnknownId> {
        if !event.is_given() {
            return Ok(false);
        }
        self.check_ids(event)?;
        if event.is_of_record() {
            if let Event::Closed { .. } = event {
                self.closing = Some(event.clone());
            }
            return Ok(false);
        }
        self.stopped = matches!(event, Event::Stopped);
        self.finished = matches!(event, Event::Finished);
        match event {
            Event::Note { text } => self.notes.push(text.clone()),
            Event::Undone { steps } => take_back(&mut self.entries, *steps),
            Event::Stopped | Event::Finished => {}
            other => self.entries.push(other.clone()),
        }
        Ok(!matches!(
            event,
            Event::Note { .. } | Event::Stopped | Event::Finished
        ))
    }

    /// The knowledge it is walked with.
    #[must_use]
    pub fn knowledge(&self) -> &'k Knowledge {
        self.knowledge
    }

    /// What to ask now.
    #[must_use]
    pub fn question(&self) -> &Question {
        &self.derived.question
    }

    /// The complaint, once given.
    #[must_use]
    pub fn complaint(&self) -> Option<TreeIndex> {
        self.derived.complaint
    }

    /// The equipment, once given.
    #[must_use]
    pub fn equipment(&self) -> Option<EquipmentIndex> {
        self.derived.equipment
    }

    /// The equipment of this installation, once given: with the accessories that are fitted, or, where that is not
    /// known, with all that can be.
    #[must_use]
    pub fn installation(&self) -> Option<&Equipment> {
        self.derived.installation.as_ref()
    }

    /// Whether it is still to be asked what is fitted besides. A case that went on without is not asked afterward.
    pub(super) fn wants_accessories(&self) -> bool {
        let fitting = self.installation().is_some_and(|own| !own.accessories.is_empty());
        let begun = || {
            self.entries.iter().any(|entry| {
                matches!(
                    entry,
                    Event::Answer {
                        volunteered: false,
                        ..
                    }
                )
            })
        };
        fitting && !self.derived.accessories_asked && !begun()
    }

    /// How many steps can be taken back.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.entries.iter().filter(|entry| entry.is_step()).count()
    }

    /// The events that make the state, oldest first; what was taken back is not among them.
    #[must_use]
    pub fn entries(&self) -> &[Event] {
        &self.entries
    }

    /// Remarks, oldest first.
    #[must_use]
    pub fn notes(&self) -> &[String] {
        &self.notes
    }

    /// Whether the last thing given was the end of the walk.
    #[must_use]
    pub fn is_finished(&self) -> bool {
        self.finished
    }

    /// Whether the last thing given was a stop.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stopped
    }

    /// The value of a fact: nothing when it was not asked, `Some(None)` when it could not be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<Option<&Value>> {
        self.derived.facts.get(&fact).map(Option::as_ref)
    }

    /// The reading given for a test.
    #[must_use]
    pub fn reading(&self, test: TestIndex) -> Option<Quantity> {
        match self.derived.answers.get(&test) {
            Some(Answer::Reading(quantity)) => Some(*quantity),
            _ => None,
        }
    }

    /// What is known of a test's outcome.
    #[must_use]
    pub fn resolution(&self, test: TestIndex) -> Resolution {
        self.derived.resolutions[test.0]
    }

    /// Calculations that could be made, in the order of the files.
    #[must_use]
    pub fn calculated(&self) -> &[Calculated] {
        &self.derived.calculated
    }

    /// Defects found, in the order of the files.
    #[must_use]
    pub fn defects(&self) -> Vec<DefectFound> {
        self.derived
            .findings
            .iter()
            .filter(|finding| {
                self.knowledge.tests[finding.test.0].outcomes[finding.outcome.0]
                    .defect
                    .is_some()
            })
            .map(|finding| DefectFound {
                test: finding.test,
                outcome: finding.outcome,
                sure: finding.certainty() >= 1.0,
            })
            .collect()
    }

    /// The tests that have an outcome, in the order of the files.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.derived.findings
    }

    /// Place in the list of given events of the answer that counts for a test.
    pub(super) fn answered_at(&self, test: TestIndex) -> Option<usize> {
        self.derived.answered_at.get(&test).copied()
    }

    /// The standing of causes, once complaint and equipment are known.
    #[must_use]
    pub fn standing(&self) -> Option<&Standing> {
        self.derived.standing.as_ref()
    }

    /// The model behind the standing.
    #[must_use]
    pub fn model(&self) -> Option<&Model> {
        self.derived.model.as_deref()
    }

    /// Tests of the nodes passed so far, sorted.
    #[must_use]
    pub fn passed(&self) -> &[TestIndex] {
        &self.derived.passed
    }

    /// The state the equipment was last brought into, as far as the walk knows.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.derived.acknowledged
    }

    fn check_ids(&self, event: &Event) -> Result<(), UnknownId> {
        let knowledge = self.knowledge;
        let unknown = |what, id: &str| {
            Err(UnknownId {
                what,
                id: id.to_owned(),
            })
        };
        match event {
            Event::Complaint { complaint } if knowledge.tree(complaint).is_none() => {
                unknown("complaint", complaint)
            }
            Event::Equipment { equipment } if knowledge.equipment(equipment).is_none() => {
                unknown("equipment", equipment)
            }
            Event::Accessories { fitted: Some(fitted) } => {
                match fitted.iter().find(|id| knowledge.accessory(id).is_none()) {
                    Some(id) => unknown("accessory", id),
                    None => Ok(()),
                }
            }
            Event::Fact { fact, .. } if knowledge.fact(fact).is_none() => unknown("fact", fact),
            Event::Answer { test, given, .. } => match (knowledge.test(test), given) {
                (None, _) => unknown("test", test),
                (Some(index), Given::Outcome(outcome) | Given::Leaning(outcome))
                    if knowledge.tests[index.0].outcome(outcome).is_none() =>
                {
                    unknown("outcome", &format!("{test}/{outcome}"))
                }
                _ => Ok(()),
            },
            Event::Closed {
                cause: Some(cause), ..
            } if knowledge.cause(cause).is_none() => unknown("cause", cause),
            _ => Ok(()),
        }
    }

    fn derive(&mut self) {
        let knowledge = self.knowledge;
        let before = (self.derived.complaint, self.derived.installation.take());
        let derived = &mut self.derived;
        derived.complaint = None;
        derived.equipment = None;
        derived.accessories_asked = false;
        let mut accessories = None;
        derived.acknowledged = None;
        derived.facts.clear();
        derived.answers.clear();
        derived.answered_at.clear();
        for (place, entry) in self.entries.iter().enumerate() {
            match entry {
                Event::Complaint { complaint } => derived.complaint = knowledge.tree(complaint),
                Event::Equipment { equipment } => derived.equipment = knowledge.equipment(equipment),
                Event::Accessories { fitted } => {
                    derived.accessories_asked = true;
                    accessories = fitted.as_deref();
                }
                Event::Acknowledged { state } => derived.acknowledged = Some(*state),
                Event::Fact { fact, value, .. } => {
                    if let Some(fact) = knowledge.fact(fact) {
                        derived.facts.insert(fact, value.clone());
                    }
                }
                Event::Answer { test, given, .. } => {
                    if let Some((test, answer)) = resolve(knowledge, test, given) {
                        derived.answers.insert(test, answer);
                        derived.answered_at.insert(test, place);
                    }
                }
                _ => {}
            }
        }
        derived.installation = derived.equipment.map(|kind| {
            let kind = &knowledge.equipment[kind.0];
            accessories.map_or_else(|| kind.clone(), |fitted| kind.fitted_with(fitted))
        });
        if let Some(own) = &derived.installation {
            choices::settled(knowledge, own, &mut derived.facts);
        }
        if let (Some(tree), Some(own)) = (derived.complaint, &derived.installation) {
            let same = before.0 == derived.complaint && before.1.as_ref() == Some(own);
            if derived.model.is_none() || !same {
                let model = Model::new(knowledge, tree, own);
                derived.model = Some(Rc::new(match &self.counts {
                    Some(counts) => model.learned(knowledge, tree, counts),
                    None => model,
                }));
            }
        } else {
            derived.model = None;
        }
        self.resolve_all();
        self.derived.pace = Pace::of(self);
        self.derived.standing = self
            .derived
            .model
            .as_ref()
            .map(|model| Standing::new(model, &self.derived.findings));
        self.derived.stands = self.all_stands();
        (self.derived.question, self.derived.passed) = route::question(self);
    }

    fn resolve_all(&mut self) {
        let knowledge = self.knowledge;
        self.derived.calculated = calculate::all(self);
        self.derived.resolutions = (0..knowledge.tests.len())
            .map(|t| self.resolve_one(TestIndex(t)))
            .collect();
        self.derived.findings = self
            .derived
            .resolutions
            .iter()
            .enumerate()
            .filter_map(|(test, resolution)| match resolution {
                Resolution::Known(outcome) if self.applies(TestIndex(test)) => {
                    Some(self.finding(TestIndex(test), *outcome))
                }
                _ => None,
            })
            .collect();
    }

    /// The finding of a test with a known outcome: leaning, where the person was not sure or the reading is nearer
    /// to a limit than the meter can tell.
    fn finding(&self, test: TestIndex, outcome: OutcomeIndex) -> Finding {
        let weights = match self.derived.answers.get(&test) {
            Some(Answer::Leaning(leaned)) => {
                let outcomes = 0..self.knowledge.tests[test.0].outcomes.len();
                Some(
                    outcomes
                        .map(|o| if o == leaned.0 { LEANING } else { 1.0 })
                        .collect(),
                )
            }
            Some(Answer::Reading(quantity)) => self.shares_of(test, *quantity),
            _ => None,
        };
        weights
            .and_then(|weights| Finding::leaning(test, weights))
            .unwrap_or_else(|| Finding::certain(test, outcome))
    }

    /// How a reading is shared between the outcomes by the meter's error; nothing when it is clear of every limit.
    pub(super) fn shares_of(&self, test: TestIndex, quantity: Quantity) -> Option<Vec<f64>> {
        let outcomes = &self.knowledge.tests[test.0].outcomes;
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
            shares[self.classify(test, part)?.0] += share;
        }
        // The far tail of a reading well inside its outcome is noise of the arithmetic, not doubt.
        let clear = shares.iter().any(|share| *share > 1.0 - 1e-6);
        (!clear).then_some(shares)
    }

    /// The figure a bound stands for, once what it multiplies is known.
    fn figure(&self, bound: &Bound) -> Option<f64> {
        let of = match bound.of {
            None => None,
            Some(BoundOf::Fact(fact)) => match self.derived.facts.get(&fact) {
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
            .is_some_and(|own| self.knowledge.tests[test.0].applies_to(own))
    }

    fn resolve_one(&self, test: TestIndex) -> Resolution {
        if let TestKind::Calculation { .. } = self.knowledge.tests[test.0].kind {
            return calculate::resolution(self, test);
        }
        match self.derived.answers.get(&test) {
            None => Resolution::Open,
            Some(Answer::CouldNotCheck) => Resolution::Unknown,
            Some(Answer::Outcome(outcome) | Answer::Leaning(outcome)) => Resolution::Known(*outcome),
            Some(Answer::Reading(quantity)) => self
                .classify(test, *quantity)
                .map_or(Resolution::Unknown, Resolution::Known),
        }
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
        for (number, outcome) in self.knowledge.tests[test.0].outcomes.iter().enumerate() {
            let Some(bound) = &outcome.bound else {
                rest = Some(OutcomeIndex(number));
                continue;
            };
            let figure = figure(bound)?;
            if (bound.below && quantity.base < figure) || (!bound.below && quantity.base > figure) {
                return Some(OutcomeIndex(number));
            }
        }
        rest
    }
}

fn resolve(knowledge: &Knowledge, test: &str, given: &Given) -> Option<(TestIndex, Answer)> {
    let test = knowledge.test(test)?;
    let answer = match given {
        Given::Outcome(outcome) => Answer::Outcome(knowledge.tests[test.0].outcome(outcome)?),
        Given::Leaning(outcome) => Answer::Leaning(knowledge.tests[test.0].outcome(outcome)?),
        Given::Reading(quantity) => Answer::Reading(*quantity),
        Given::CouldNotCheck => Answer::CouldNotCheck,
    };
    Some((test, answer))
}
