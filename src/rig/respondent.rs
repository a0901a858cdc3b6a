//! The rig as a respondent: readings from the meter, looks from the states, the rest as it was sampled with the fault.

use std::rc::Rc;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, FactIndex, Knowledge, State, TestIndex, TestKind};
use crate::practice::{Hidden, Meter};
use crate::quantity::{Quantity, Value, Word};
use crate::walk::{Event, Given, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk};

use super::bench::{Because, Stage};
use super::case::{NoModel, Site};
use super::course::Course;
use super::faults::When;
use super::visit::WAITS;
use super::{plates, states};

/// Figures of a reading as it is typed.
const FIGURES: i32 = 4;

/// A simulated installation that answers a walk.
pub struct Rig {
    site: Site,
    /// What no physics decides, sampled once, made to fit what physics does.
    hidden: Hidden,
    /// What is seen of the running unit while a fault that comes and goes is not there.
    calm: Option<Hidden>,
    /// Tests that show the fault itself.
    showing: Vec<TestIndex>,
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

/// Why there is no rig for a cause in a walk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoRig {
    /// The cause has no model.
    NoModel(NoModel),
    /// The equipment cannot have it, or complaint and equipment are not given.
    NotHere,
    /// The circuit has no solution.
    NoSolution,
}

/// The figures of a site: what its meter shows, and what stands on its plates.
struct Figures {
    readings: Indexed<TestIndex, Option<Quantity>>,
    facts: Indexed<FactIndex, Option<Value>>,
}

impl Meter for Figures {
    fn reading(&self, test: TestIndex) -> Option<Quantity> {
        self.readings.get(test).copied().flatten()
    }

    fn fact(&self, fact: FactIndex) -> Option<&Value> {
        self.facts.get(fact)?.as_ref()
    }
}

impl Figures {
    fn of(walk: &Walk<'_>, site: &Site) -> Self {
        let knowledge = walk.knowledge();
        let readings = knowledge.tests.indices().map(|test| {
            let reads = matches!(knowledge.tests[test].kind, TestKind::Reading { .. }) && walk.applies(test);
            if reads {
                site.read(knowledge, test).ok()
            } else {
                None
            }
        });
        Self {
            readings: readings.collect(),
            facts: plates::facts(walk, &site.bench.installation, &site.fault),
        }
    }
}

impl Rig {
    /// Puts a cause into an installation for a walk whose complaint, equipment and accessories are given.
    ///
    /// # Errors
    /// When the cause has no model, or cannot be there.
    pub fn sample(walk: &Walk<'_>, truth: CauseIndex, severity: f64, seed: u64) -> Result<Self, NoRig> {
        let knowledge = walk.knowledge();
        let equipment = walk.installation().ok_or(NoRig::NotHere)?;
        let cause = &knowledge.causes[truth];
        let site = Site::sample(equipment, cause, Some(severity), seed).map_err(NoRig::NoModel)?;
        let course = Course::of(&site).map_err(|_| NoRig::NoSolution)?;
        let figures = Rc::new(Figures::of(walk, &site));
        let sample = |fitting: &[states::Fitting]| {
            let figures = Rc::clone(&figures);
            Hidden::sample_where(
                walk,
                truth,
                seed,
                &states::placed(knowledge, fitting),
                Some(figures),
            )
        };
        let complaint = walk.complaint().map(|tree| knowledge.trees[tree].id.as_str());
        let called = states::of_call(knowledge, truth, complaint, &site, &course);
        let hidden = sample(&called).ok_or(NoRig::NotHere)?;
        let away = site.calm.as_ref().filter(|_| !site.meets(Stage::Running));
        let calm = away.and_then(|calm| sample(&states::now(calm)));
        let showing = hidden.showing(knowledge);
        Ok(Self {
            site,
            hidden,
            calm,
            showing,
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
        &self.site
    }

    /// What a test comes to, as it would be typed; nothing where it cannot be made here.
    #[must_use]
    pub fn answer(&self, knowledge: &Knowledge, test: TestIndex) -> Option<String> {
        let known = &knowledge.tests[test];
        if !matches!(known.kind, TestKind::Reading { .. }) {
            let seen = self.calm.as_ref().filter(|_| known.state.is_powered());
            let seen = seen.filter(|_| !self.showing.contains(&test));
            return seen.unwrap_or(&self.hidden).answer(knowledge, test);
        }
        match self.site.read(knowledge, test) {
            Ok(read) => Some(read.keyed(FIGURES)),
            Err(Because::NoModel) => self.hidden.answer(knowledge, test),
            Err(_) => None,
        }
    }

    /// A fact as it would be typed; nothing where it is not to be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<String> {
        self.hidden.fact(fact)
    }

    /// A fault of a warm part is waited for, once.
    fn wait(&mut self, state: State) {
        let runs = matches!(state, State::Running | State::Energised);
        if runs && self.site.fault.when == When::Warm && !self.waited {
            self.waited = true;
            self.minutes += WAITS;
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
