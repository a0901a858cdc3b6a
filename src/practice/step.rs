//! What happens in a run, as data: for screen, debrief and record.

use crate::knowledge::model::{CauseIndex, FactIndex, Hazard, HoldIndex, State, TestIndex};

/// What came of a choice, for whoever shows it.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum Happened {
    /// A look or reading was made, or told.
    Made {
        test: TestIndex,
        /// What was found, in words.
        found: String,
        /// Minutes it took, in the exercise.
        minutes: f64,
    },
    /// It was made before and gives the same answer; nothing new, and its time is gone.
    Again {
        test: TestIndex,
        /// What was found before.
        found: String,
        /// Minutes it took.
        minutes: f64,
    },
    /// A fact was looked up.
    Read {
        fact: FactIndex,
        /// Its value in words, or that it is not to be found.
        value: String,
    },
    /// A calculation came out.
    Calculated {
        /// The test of the calculation.
        test: TestIndex,
        /// The finding in a sentence.
        finding: String,
    },
    /// A limit proved violated.
    Defect { name: String },
    /// Steps come before the test picked: shown, and done or not.
    StepsFirst {
        /// The state to bring the equipment into.
        state: State,
        /// The test behind it.
        test: TestIndex,
    },
    /// The steps for a state were done.
    Prepared {
        state: State,
        /// Minutes it took.
        minutes: f64,
    },
    /// It was let run before it was read: what the customer tells of comes with the run.
    LetRun {
        /// Minutes it took.
        minutes: f64,
    },
    /// An unsafe choice, not carried out.
    Stopped(Unsafe),
    /// A calculation or reading lacks another reading.
    Lacks {
        /// What was picked.
        test: TestIndex,
        /// What is lacking.
        readings: Vec<TestIndex>,
    },
    /// What leads, asked for as a hint.
    Leads {
        /// At most three causes with their probabilities.
        leaders: Vec<(CauseIndex, f64)>,
    },
    /// The run is over.
    Over(Ending),
}

/// An unsafe choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unsafe {
    /// What was picked.
    pub test: TestIndex,
    /// The hold that stood; nothing where the steps before the state were skipped.
    pub hold: Option<HoldIndex>,
    /// What comes first, where something would clear the hold.
    pub first: Option<TestIndex>,
    /// Step of the way before which it was picked, from 0.
    pub before: usize,
}

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// A cause was named.
    Named(CauseIndex),
    /// The truth was asked for.
    GaveUp,
}

/// What was done in one step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Did {
    /// A look or reading.
    Test(TestIndex),
    /// A fact was looked up.
    Fact(FactIndex),
}

/// One step of the way, with what it told and cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What was done.
    pub did: Did,
    /// What was found, in words.
    pub found: String,
    /// It was what the walk asked.
    pub followed: bool,
    /// Minutes, changes of state included.
    pub minutes: f64,
    /// What it can do to a person.
    pub hazard: Hazard,
    /// The state it was made in.
    pub state: State,
    /// Probability of the truth before and after.
    pub truth: (f64, f64),
    /// The leading cause after it.
    pub leader: Option<CauseIndex>,
    /// How far the standing moved: half the sum of all changes, 0 to 1.
    pub moved: f64,
}

impl Step {
    /// Whether live parts were exposed, or a flame burned.
    #[must_use]
    pub fn is_live(&self) -> bool {
        matches!(self.state, State::Energised | State::Firing)
    }
}
