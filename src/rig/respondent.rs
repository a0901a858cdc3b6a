//! The rig as a respondent: readings from the meter, looks from the states, the rest as it was sampled with the fault.

use crate::knowledge::model::{CauseIndex, FactIndex, Knowledge, State, TestIndex};
use crate::quantity::Word;
use crate::walk::{Event, Given, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk};

use super::case::Site;
use super::hidden::Hidden;
use super::simulated::{NoRig, Simulated};

/// A simulated installation that answers a walk.
pub struct Rig {
    simulated: Simulated,
    /// Questions, offers and facts among them.
    pub questions: usize,
    /// Minutes they take.
    pub minutes: f64,
    /// Tests with power on.
    pub live: usize,
    /// It has run as long as the customer says it takes.
    waited: bool,
    /// What was asked and answered, in order.
    pub way: Vec<String>,
    refused: bool,
}

impl Rig {
    /// Puts a cause into an installation for a walk whose complaint, equipment and accessories are given.
    ///
    /// # Errors
    /// When the cause has no model, or cannot be there.
    pub fn sample(walk: &Walk<'_>, truth: CauseIndex, severity: f64, seed: u64) -> Result<Self, NoRig> {
        Ok(Self {
            simulated: Simulated::sample(walk, truth, severity, seed)?,
            questions: 0,
            minutes: 0.0,
            live: 0,
            waited: false,
            way: Vec::new(),
            refused: false,
        })
    }

    /// The installation with its fault.
    #[must_use]
    pub fn site(&self) -> &Site {
        &self.simulated.site
    }

    fn hidden(&self) -> &Hidden {
        &self.simulated.hidden
    }

    /// What a test comes to, as it would be typed; nothing where it cannot be made here.
    #[must_use]
    pub fn answer(&self, knowledge: &Knowledge, test: TestIndex) -> Option<String> {
        self.hidden().answer(knowledge, test)
    }

    /// A fact as it would be typed; nothing where it is not to be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<String> {
        self.hidden().fact(fact)
    }

    /// A fault of a warm part is waited for, once.
    fn wait(&mut self, state: State) {
        let waits = self.simulated.waits(state);
        if waits > 0.0 && !self.waited {
            self.waited = true;
            self.minutes += waits;
        }
    }

    fn asked(&mut self, minutes: f64) {
        self.questions += 1;
        self.minutes += 0.5 + minutes;
    }
}

impl Respondent for Rig {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let knowledge = prompt.walk.knowledge();
        if std::mem::take(&mut self.refused) {
            return Ok(Reply::CouldNotCheck);
        }
        let or_not = |answer: Option<String>| answer.map_or(Reply::CouldNotCheck, Reply::Answer);
        Ok(match prompt.question {
            Question::Complaint | Question::Equipment | Question::Accessories => {
                return Err(RespondentError::Refused {
                    reason: "complaint, equipment and accessories are given before the rig is built"
                        .to_owned(),
                });
            }
            Question::Offer { tests, .. } => {
                self.asked(0.0);
                Reply::listed(tests.iter().map(|test| knowledge.tests[*test].id.as_str()))
            }
            Question::Able { among } => {
                self.asked(0.0);
                Reply::listed(among.iter().map(|ability| ability.word()))
            }
            Question::Fact { fact, .. } => {
                self.asked(0.0);
                or_not(self.fact(*fact))
            }
            Question::Test { test, .. } => {
                let known = &knowledge.tests[*test];
                self.asked(known.minutes);
                self.live += usize::from(known.state.is_powered());
                self.wait(known.state);
                or_not(self.answer(knowledge, *test))
            }
            Question::Caution { .. } | Question::Halt { .. } | Question::Finish => Reply::Accept,
        })
    }

    fn refused(&mut self, refusal: &Refusal) {
        self.way.push(format!("(not taken: {})", refusal.reason));
        self.refused = true;
    }

    fn observe(&mut self, event: &Event, _understood: Option<&str>, _walk: &Walk<'_>) {
        match event {
            Event::Answer {
                test, given, typed, ..
            } => {
                let answer = match given {
                    Given::CouldNotCheck => "could not be checked",
                    _ => typed,
                };
                self.way.push(format!("{test}: {answer}"));
            }
            Event::Fact { fact, typed, .. } => self.way.push(format!("({fact}: {typed})")),
            _ => {}
        }
    }
}
