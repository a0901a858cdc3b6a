//! One run at an exercise: what the apprentice does, what comes of it, what it costs.
//!
//! A session is worked out from its exercise and the list of choices made, and from nothing else, so the same choices give the
//! same run. The walk inside is the real one; a choice it cannot take is refused and costs nothing. A choice that a hold or
//! missing steps forbid is never carried out: it is explained and counted.

use crate::knowledge::model::{CauseIndex, Hazard, Knowledge, State, TestIndex};
use crate::rig::Hidden;
use crate::walk::{Event, Given, Question, Walk};

use super::step::{Did, Ending, Step, Unsafe};
use super::{Choice, Exercise, Truth};

/// A run at an exercise.
#[derive(Clone)]
pub struct Session<'k> {
    pub(super) knowledge: &'k Knowledge,
    pub(super) exercise: Exercise,
    pub(super) fault: Truth,
    pub(super) walk: Walk<'k>,
    pub(super) choices: Vec<Choice>,
    pub(super) steps: Vec<Step>,
    pub(super) wrong: Vec<Unsafe>,
    pub(super) hints: usize,
    /// Minutes that belong to the next step: steps of preparation.
    pub(super) pending_minutes: f64,
    /// A test picked freely that waits for the steps before it.
    pub(super) waiting: Option<TestIndex>,
    pub(super) ended: Option<Ending>,
    /// The walk stopped for safety, and the apprentice took it.
    pub(super) halted: bool,
}

impl<'k> Session<'k> {
    /// Begins; nothing when the equipment of the exercise cannot have its fault.
    #[must_use]
    pub fn new(knowledge: &'k Knowledge, exercise: &Exercise) -> Option<Self> {
        Some(Self::on(knowledge, exercise, exercise.truth(knowledge)?))
    }

    fn on(knowledge: &'k Knowledge, exercise: &Exercise, fault: Truth) -> Self {
        Self {
            knowledge,
            exercise: exercise.clone(),
            fault,
            walk: exercise.walk(knowledge),
            choices: Vec::new(),
            steps: Vec::new(),
            wrong: Vec::new(),
            hints: 0,
            pending_minutes: 0.0,
            waiting: None,
            ended: None,
            halted: false,
        }
    }

    /// An exercise walked by the engine; nothing when the equipment cannot have its fault.
    #[must_use]
    pub fn by_the_engine(knowledge: &'k Knowledge, exercise: &Exercise) -> Option<Self> {
        Some(Self::new(knowledge, exercise)?.walked_by_the_engine())
    }

    /// The very same fault walked by the engine, from beginning to end: it asks what the walk asks, everything offered
    /// included, and names what leads.
    #[must_use]
    pub fn walked_by_the_engine(&self) -> Self {
        /// More than any walk has; one that does not end would hang.
        const MOST: usize = 500;
        let knowledge = self.knowledge;
        let mut session = Self::on(knowledge, &self.exercise, self.fault.clone());
        for _ in 0..MOST {
            let choice = match session.question() {
                Question::Finish => break,
                Question::Offer { tests, .. } => {
                    let ids = tests.iter().map(|test| knowledge.tests[*test].id.clone());
                    Choice::Ask(ids.collect())
                }
                Question::Halt { .. } if session.halted => break,
                _ => Choice::Walk,
            };
            if session.act(&choice).is_err() {
                break;
            }
        }
        if let Some((leader, _)) = session.leaders(1).first().copied() {
            session.ended = Some(Ending::Named(leader));
        }
        session
    }

    /// The exercise.
    #[must_use]
    pub fn exercise(&self) -> &Exercise {
        &self.exercise
    }

    /// The fault.
    #[must_use]
    pub fn hidden(&self) -> &Hidden {
        &self.fault.hidden
    }

    /// Why no simulated installation gives the readings of this fault; nothing where one does.
    #[must_use]
    pub fn why_drawn(&self) -> Option<&str> {
        self.fault.simulated.as_ref().err().map(String::as_str)
    }

    /// Whether a test can be picked here: it applies to the equipment and belongs to the complaint.
    #[must_use]
    pub fn has(&self, test: TestIndex) -> bool {
        let of = &self.knowledge.tests[test].complaints;
        self.walk.applies(test) && (of.is_empty() || of.contains(&self.exercise.complaint))
    }

    /// The walk so far.
    #[must_use]
    pub fn walk(&self) -> &Walk<'k> {
        &self.walk
    }

    /// What the walk asks now.
    #[must_use]
    pub fn question(&self) -> &Question {
        self.walk.question()
    }

    /// A test picked freely that waits for the steps before it.
    #[must_use]
    pub fn waiting(&self) -> Option<TestIndex> {
        self.waiting
    }

    /// Every choice taken so far, in order.
    #[must_use]
    pub fn choices(&self) -> &[Choice] {
        &self.choices
    }

    /// The way taken.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// Unsafe choices, none of them carried out.
    #[must_use]
    pub fn wrong(&self) -> &[Unsafe] {
        &self.wrong
    }

    /// Hints asked for.
    #[must_use]
    pub fn hints(&self) -> usize {
        self.hints
    }

    /// How it ended; nothing while it goes on.
    #[must_use]
    pub fn ended(&self) -> Option<Ending> {
        self.ended
    }

    /// Whether the walk was stopped for safety and the apprentice took it.
    #[must_use]
    pub fn is_halted(&self) -> bool {
        self.halted
    }

    /// Minutes so far, in the exercise.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.steps.iter().map(|step| step.minutes).sum::<f64>() + self.pending_minutes
    }

    /// Looks, readings and told things made; facts do not count.
    #[must_use]
    pub fn tests(&self) -> usize {
        self.steps
            .iter()
            .filter(|step| matches!(step.did, Did::Test(_)))
            .count()
    }

    /// Steps with live parts or flame.
    #[must_use]
    pub fn live(&self) -> usize {
        self.steps.iter().filter(|step| step.is_live()).count()
    }

    /// The worst a step could do to a person.
    #[must_use]
    pub fn worst(&self) -> Hazard {
        self.steps
            .iter()
            .map(|step| step.hazard)
            .max()
            .unwrap_or(Hazard::None)
    }

    /// What leads, with probabilities.
    #[must_use]
    pub fn leaders(&self, most: usize) -> Vec<(CauseIndex, f64)> {
        self.walk.ranked().into_iter().take(most).collect()
    }

    /// Probability of the truth now.
    #[must_use]
    pub fn truth(&self) -> f64 {
        let standing = self.walk.standing();
        standing.map_or(0.0, |standing| standing.of(self.hidden().truth()))
    }

    /// Whether anything was told or looked at before hands came in.
    #[must_use]
    pub fn asked_first(&self) -> bool {
        self.steps
            .iter()
            .take_while(|step| !step.state.is_prepared())
            .any(
                |step| matches!(step.did, Did::Test(test) if self.knowledge.tests[test].state == State::Told),
            )
    }

    /// Answers given to the walk, for what is known so far.
    pub fn known(&self) -> impl Iterator<Item = &Event> {
        self.walk.entries().iter().filter(|entry| {
            matches!(
                entry,
                Event::Fact { .. }
                    | Event::Answer {
                        given: Given::Outcome(_) | Given::Outcomes(_) | Given::Reading(_) | Given::Leaning(_),
                        ..
                    }
            )
        })
    }
}
