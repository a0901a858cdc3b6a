//! The state of a walk: the given events, and everything worked out from them.

use std::collections::HashMap;
use std::rc::Rc;

use crate::files;
use crate::inference::learn::Counts;
use crate::inference::{Answered, Model, Standing, meter};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    Bound, BoundOf, Equipment, EquipmentIndex, FactIndex, HoldIndex, Knowledge, OutcomeIndex, State,
    TestIndex, TreeIndex, bound_figure,
};
use crate::quantity::{Quantity, Value};
use crate::standards::calculation::{InputError, Report};

use super::pace::Pace;
use super::{Event, Question};

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

/// A calculation that was made, with its working, or the reason it could not be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Calculated {
    /// The test it belongs to.
    pub test: TestIndex,
    /// What came out.
    pub result: Result<Report, InputError>,
}

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
    pub(super) resolutions: Indexed<TestIndex, Resolution>,
    pub(super) calculated: Vec<Calculated>,
    pub(super) findings: Vec<Answered>,
    pub(super) model: Option<Rc<Model>>,
    pub(super) standing: Option<Standing>,
    /// How far the walk has come.
    pub(super) pace: Pace,
    /// How each hold stands.
    pub(super) stands: Indexed<HoldIndex, Stand>,
    pub(super) question: Question,
    /// Tests of the nodes passed so far, sorted.
    pub(super) passed: Vec<TestIndex>,
}

/// One run through a tree.
#[derive(Clone, Debug)]
pub struct Walk<'k> {
    pub(super) knowledge: &'k Knowledge,
    /// The events that make the state; what was taken back is gone from here.
    pub(super) entries: Vec<Event>,
    pub(super) notes: Vec<String>,
    pub(super) stopped: bool,
    pub(super) finished: bool,
    pub(super) closing: Option<Event>,
    pub(super) counts: Option<Counts>,
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
            resolutions: Indexed::like(&knowledge.tests, Resolution::Open),
            calculated: Vec::new(),
            findings: Vec::new(),
            model: None,
            standing: None,
            pace: Pace::default(),
            stands: Indexed::like(&knowledge.holds, Stand::Down),
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
        self.derived.resolutions[test]
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
                self.knowledge.tests[finding.test].outcomes[finding.outcome]
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
    pub fn findings(&self) -> &[Answered] {
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
