//! What a test takes: the one cost of a question, for the walk and for the score of it.

use crate::knowledge::model::{Equipment, InputFrom, Knowledge, State, Test, TestIndex, TestKind};

use super::gain::{ASKING_MINUTES, change_of_state, hazard_charge};

/// What a question costs beyond its minutes, in minutes: people give up after some twenty, and so a question must tell more
/// than its short time would ask of it. Our choice, no source; on the accounts with everything told only when asked, 4 finds
/// more than 0 and no fewer than 2 or 5.
const PATIENCE_MINUTES: f64 = 4.0;

/// Minutes to look up one fact, before it is asked and answered. Our choice, no source.
pub const FACT_MINUTES: f64 = 0.5;

/// A test that may be made, and what it takes with the inputs it lacks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Priced {
    /// The test itself, not an input it lacks.
    pub test: TestIndex,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Charge for the hazard, in minutes.
    pub charge: f64,
    /// Questions, its own among them.
    pub questions: usize,
    /// The most exposed state the equipment must be in.
    pub state: State,
}

impl Priced {
    /// A test by itself.
    #[must_use]
    pub const fn alone(index: TestIndex, test: &Test) -> Self {
        Self {
            test: index,
            minutes: test.minutes,
            charge: hazard_charge(test.hazard),
            questions: 1,
            state: test.state,
        }
    }

    /// With a fact that must be looked up for it.
    #[must_use]
    pub fn and_fact(mut self) -> Self {
        self.minutes += FACT_MINUTES;
        self.questions += 1;
        self
    }

    /// With a reading that must be taken for it.
    #[must_use]
    pub fn and_reading(mut self, reading: &Test) -> Self {
        self.minutes += reading.minutes;
        self.charge += hazard_charge(reading.hazard);
        self.questions += 1;
        self.state = self.state.max(reading.state);
        self
    }

    /// Hands-on minutes with the change of state, when the equipment is in the state `now` (or in none yet).
    #[must_use]
    pub fn minutes_from(&self, now: Option<State>) -> f64 {
        self.minutes + change_of_state(self.state, now)
    }

    /// What the choice is made by, in minutes: those, the asking, the charge for the hazard and the person's patience.
    #[must_use]
    pub fn cost(&self, now: Option<State>) -> f64 {
        PATIENCE_MINUTES + ASKING_MINUTES * self.questions as f64 + self.charge + self.minutes_from(now)
    }
}

/// The tests of an order that apply to some equipment, priced before anything is known: a calculation takes all its inputs.
#[must_use]
pub fn unasked(knowledge: &Knowledge, equipment: &Equipment, order: &[TestIndex]) -> Vec<Priced> {
    order
        .iter()
        .map(|index| (*index, &knowledge.tests[*index]))
        .filter(|(_, test)| test.applies_to(equipment))
        .map(|(index, test)| {
            let alone = Priced::alone(index, test);
            let TestKind::Calculation { inputs, .. } = &test.kind else {
                return alone;
            };
            inputs.values().fold(alone, |price, input| match input {
                InputFrom::Fact(_) => price.and_fact(),
                InputFrom::Reading(reading) => price.and_reading(&knowledge.tests[*reading]),
                InputFrom::Fixed(_) => price,
            })
        })
        .collect()
}
