//! One run through a tree: the given events, and everything worked out from them.

use std::ops::Deref;

use crate::files;
use crate::inference::learn::Counts;
use crate::knowledge::model::{Hold, Knowledge};

use super::event::{self, Event};
use super::step::Step;

/// One run through a tree.
#[derive(Clone, Debug)]
pub struct Walk<'k> {
    /// The events that make the state; what was taken back is gone from here.
    pub(super) entries: Vec<Event>,
    pub(super) notes: Vec<String>,
    pub(super) stopped: bool,
    pub(super) finished: bool,
    pub(super) closing: Option<Event>,
    pub(super) counts: Option<Counts>,
    pub(super) step: Step<'k>,
}

impl<'k> Deref for Walk<'k> {
    type Target = Step<'k>;

    fn deref(&self) -> &Self::Target {
        &self.step
    }
}

impl<'k> Walk<'k> {
    /// Begins a walk: the first question is the complaint.
    #[must_use]
    pub fn new(knowledge: &'k Knowledge) -> Self {
        Self {
            entries: Vec::new(),
            notes: Vec::new(),
            stopped: false,
            finished: false,
            closing: None,
            counts: None,
            step: Step::of(knowledge, &[], None, None),
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

    /// How many steps can be taken back.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.entries.iter().filter(|entry| entry.is_step()).count()
    }

    /// The dangers that would not stand any more if so many steps were taken back.
    #[must_use]
    pub fn dangers_taken_back(&self, steps: usize) -> Vec<&Hold> {
        let mut left = self.entries.clone();
        event::stand(&mut left, Event::Undone { steps });
        let kept = self.entries.iter().zip(&left).take_while(|(a, b)| a == b).count();
        let mut dangers = self.dangers();
        dangers.retain(|hold| self.is_raised_from(hold, kept));
        dangers
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
}
