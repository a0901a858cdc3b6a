//! What follows from the given events: everything is worked out anew after each of them.

use thiserror::Error;

use crate::inference::learn::Counts;

use super::state::Walk;
use super::step::Step;
use super::{Event, Given, Question, event};

/// An id in a kept event that the knowledge does not have (any more).
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("the knowledge has no {what} `{id}`")]
pub struct UnknownId {
    /// "test", "fact" and so on.
    pub what: &'static str,
    /// As the case file has it.
    pub id: String,
}

impl<'k> Walk<'k> {
    /// The same walk with cause frequencies learned from a shop's confirmed cases.
    #[must_use]
    pub fn learned(mut self, counts: Counts) -> Self {
        // Nothing is kept of the model before.
        self.step = Step::of(self.knowledge, &self.entries, Some(&counts), None);
        self.counts = Some(counts);
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
            return Ok(event::stand(&mut self.entries, event.clone()));
        }
        self.stopped = matches!(event, Event::Stopped);
        self.finished = matches!(event, Event::Finished);
        if let Event::Note { text } = event {
            self.notes.push(text.clone());
        }
        Ok(event::stand(&mut self.entries, event.clone()))
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
                (Some(index), Given::Outcomes(outcomes)) => {
                    let unheard = |id: &&String| knowledge.tests[index].outcome(id).is_none();
                    match outcomes.iter().find(unheard) {
                        Some(outcome) => unknown("outcome", &format!("{test}/{outcome}")),
                        None => Ok(()),
                    }
                }
                _ => Ok(()),
            },
            Event::LeftStanding { test, outcome } => match knowledge.test(test) {
                None => unknown("test", test),
                Some(index) if knowledge.tests[index].outcome(outcome).is_none() => {
                    unknown("outcome", &format!("{test}/{outcome}"))
                }
                Some(_) => Ok(()),
            },
            Event::Closed {
                cause: Some(cause), ..
            } if knowledge.cause(cause).is_none() => unknown("cause", cause),
            _ => Ok(()),
        }
    }

    fn derive(&mut self) {
        self.step = Step::of(
            self.knowledge,
            &self.entries,
            self.counts.as_ref(),
            Some(&self.step),
        );
    }

    /// Whether going on past the end asks anything; otherwise it leads to the same end at once.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        let mut further = self.clone();
        further.apply(&Event::Further).is_ok() && *further.question() != Question::Finish
    }
}
