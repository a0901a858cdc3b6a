//! After a run: the truth, what pointed to it, the way taken beside the engine's, and the one habit to change.

use crate::knowledge::model::{CauseIndex, Hazard, TestIndex};

use super::habit::Habit;
use super::step::{Did, Step, Unsafe};

/// A way through an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// In the order taken.
    pub steps: Vec<Step>,
    /// Looks, readings and told things.
    pub tests: usize,
    /// Hands-on minutes of all of them.
    pub minutes: f64,
    /// Steps with live parts or flame.
    pub live: usize,
    /// The worst a step could do to a person.
    pub worst: Hazard,
    /// The cause named at its end; the engine names what leads.
    pub named: Option<CauseIndex>,
    /// It was stopped for safety.
    pub halted: bool,
}

impl Way {
    /// The tests of it, in the order made.
    #[must_use]
    pub fn tests_made(&self) -> Vec<TestIndex> {
        let made = self.steps.iter().filter_map(|step| match step.did {
            Did::Test(test) => Some(test),
            Did::Fact(_) => None,
        });
        made.collect()
    }
}

/// What a finding did for the truth.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Pointer {
    pub test: TestIndex,
    pub found: String,
    /// How many times likelier it made the truth, beside all else that was found; below 1 it pointed away.
    pub times: f64,
}

/// Where the two ways parted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Parted {
    /// Tests made alike before.
    pub after: usize,
    /// What the apprentice did there; nothing when the way ended.
    pub own: Option<TestIndex>,
    /// What the engine did there.
    pub engine: Option<TestIndex>,
}

/// A test that shows the fault itself and was not made.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Shows {
    pub test: TestIndex,
    pub found: String,
    pub minutes: f64,
}

/// Everything said at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// What was wrong.
    pub truth: CauseIndex,
    /// What was named; nothing when the truth was asked for.
    pub named: Option<CauseIndex>,
    /// Probability of the truth by what the apprentice had found.
    pub stood: f64,
    /// Probability of what was named, likewise; nothing when the truth was asked for.
    pub named_stood: Option<f64>,
    /// What was found that pointed to the truth, the strongest first.
    pub pointed: Vec<Pointer>,
    /// What was found that pointed away.
    pub away: Vec<Pointer>,
    /// What would have shown the fault itself and was not made, the cheapest first.
    pub would_show: Vec<Shows>,
    /// The apprentice's way.
    pub own: Way,
    /// The engine's.
    pub engine: Way,
    /// Where they parted; nothing when they did not.
    pub parted: Option<Parted>,
    /// Unsafe choices.
    pub wrong: Vec<Unsafe>,
    /// Hints asked for.
    pub hints: usize,
    /// What to do otherwise the next time.
    pub habit: Habit,
}

impl Debrief {
    /// Whether the cause that was named is the truth.
    #[must_use]
    pub fn is_right(&self) -> bool {
        self.named == Some(self.truth)
    }
}
