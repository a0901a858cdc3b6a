//! What follows from the given events: everything is worked out anew after each of them.

use std::rc::Rc;

use thiserror::Error;

use crate::inference::learn::Counts;
use crate::inference::{Answered, Model, Standing};
use crate::knowledge::model::{Knowledge, OutcomeIndex, TestIndex, TestKind};

use super::calculate;
use super::pace::Pace;
use super::state::Answer;
use super::state::{Resolution, Walk};
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

impl<'k> Walk<'k> {
    /// The same walk with cause frequencies learned from a shop's confirmed cases.
    #[must_use]
    pub fn learned(mut self, counts: Counts) -> Self {
        self.counts = Some(counts);
        self.derived.model = None;
        self.derive();
        self
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
                    if knowledge.tests[index].outcome(outcome).is_none() =>
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
            let kind = &knowledge.equipment[kind];
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
        self.derived.pace = Pace::of(knowledge, &self.entries);
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
        self.derived.resolutions = knowledge
            .tests
            .indices()
            .map(|test| self.resolve_one(test))
            .collect();
        self.derived.findings = self
            .derived
            .resolutions
            .indexed()
            .filter_map(|(test, resolution)| match resolution {
                Resolution::Known(outcome) if self.applies(test) => Some(self.finding(test, *outcome)),
                _ => None,
            })
            .collect();
    }

    /// The finding of a test with a known outcome: leaning, where the person was not sure or the reading is nearer
    /// to a limit than the meter can tell.
    fn finding(&self, test: TestIndex, outcome: OutcomeIndex) -> Answered {
        let weights = match self.derived.answers.get(&test) {
            Some(Answer::Leaning(leaned)) => {
                let outcomes = self.knowledge.tests[test].outcomes.indices();
                Some(
                    outcomes
                        .map(|o| if o == *leaned { LEANING } else { 1.0 })
                        .collect(),
                )
            }
            Some(Answer::Reading(quantity)) => self.shares_of(test, *quantity),
            _ => None,
        };
        weights
            .and_then(|weights| Answered::leaning(test, weights))
            .unwrap_or_else(|| Answered::certain(test, outcome))
    }

    fn resolve_one(&self, test: TestIndex) -> Resolution {
        if let TestKind::Calculation { .. } = self.knowledge.tests[test].kind {
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

    /// Whether going on past the end asks anything; otherwise it leads to the same end at once.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        let mut further = self.clone();
        further.apply(&Event::Further).is_ok() && *further.question() != Question::Finish
    }
}

fn resolve(knowledge: &Knowledge, test: &str, given: &Given) -> Option<(TestIndex, Answer)> {
    let test = knowledge.test(test)?;
    let answer = match given {
        Given::Outcome(outcome) => Answer::Outcome(knowledge.tests[test].outcome(outcome)?),
        Given::Leaning(outcome) => Answer::Leaning(knowledge.tests[test].outcome(outcome)?),
        Given::Reading(quantity) => Answer::Reading(*quantity),
        Given::CouldNotCheck => Answer::CouldNotCheck,
    };
    Some((test, answer))
}
