//! The rig as a respondent: readings from the meter, looks from the states, the rest as it was drawn with the fault.

use std::rc::Rc;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, EffectIndex, FactIndex, Knowledge, TestIndex, TestKind};
use crate::practice::{Hidden, Meter};
use crate::quantity::{Quantity, Value};
use crate::walk::{
    Event, Given, NOTHING, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk,
};

use fastrand::Rng;

use super::bench::Because;
use super::case::{self, Fault, NoModel, Site};
use super::meter::Meters;
use super::{plates, states};

/// Figures of a reading as it is typed.
const FIGURES: i32 = 4;

/// A simulated installation that answers a walk.
pub struct Rig {
    site: Site,
    /// What no physics decides, drawn once, made to fit what physics does.
    hidden: Hidden,
    /// Questions, offers and facts among them.
    pub questions: usize,
    /// Minutes they take.
    pub minutes: f64,
    /// Tests with power on.
    pub live: usize,
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

/// The places of effects and states by their ids; what the knowledge does not have is left out.
fn placed(knowledge: &Knowledge, fitting: &[states::Fitting]) -> Vec<(EffectIndex, Vec<usize>)> {
    fitting
        .iter()
        .filter_map(|(effect, fits)| {
            let place = knowledge.effect(effect)?;
            let states = &knowledge.effects[place].states;
            let at = |id: &&str| states.iter().position(|state| state.id == **id);
            Some((place, fits.iter().filter_map(at).collect()))
        })
        .collect()
}

impl Rig {
    /// Puts a cause into an installation for a walk whose complaint, equipment and accessories are given.
    ///
    /// # Errors
    /// When the cause has no model, or cannot be there.
    pub fn draw(walk: &Walk<'_>, truth: CauseIndex, severity: f64, seed: u64) -> Result<Self, NoRig> {
        let knowledge = walk.knowledge();
        let equipment = walk.installation().ok_or(NoRig::NotHere)?;
        let plate = case::plate(equipment, &|_| None);
        let mut rng = Rng::with_seed(seed);
        let cause = &knowledge.causes[truth];
        let fault =
            Fault::draw(&cause.id, Some(severity), case::hots(&plate), &mut rng).map_err(NoRig::NoModel)?;
        let site = Site::new(plate, fault, Meters::drawn(&mut rng));
        let fitting = placed(knowledge, &states::fitting(&site.bench));
        let figures = Rc::new(Figures::of(walk, &site));
        let hidden = Hidden::draw_where(walk, truth, seed, &fitting, Some(figures)).ok_or(NoRig::NotHere)?;
        Ok(Self {
            site,
            hidden,
            questions: 0,
            minutes: 0.0,
            live: 0,
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
        if !matches!(knowledge.tests[test].kind, TestKind::Reading { .. }) {
            return self.hidden.answer(knowledge, test);
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

    fn asked(&mut self, minutes: f64) {
        self.questions += 1;
        self.minutes += 0.5 + minutes;
    }
}

fn listed<'a>(ids: impl Iterator<Item = &'a str>) -> Reply {
    let ids: Vec<&str> = ids.collect();
    Reply::Answer(if ids.is_empty() {
        NOTHING.to_owned()
    } else {
        ids.join(", ")
    })
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
                listed(tests.iter().map(|test| knowledge.tests[*test].id.as_str()))
            }
            Question::Able { among } => {
                self.asked(0.0);
                listed(among.iter().map(|ability| ability.id()))
            }
            Question::Fact { fact, .. } => {
                self.asked(0.0);
                or_not(self.fact(*fact))
            }
            Question::Test { test, .. } => {
                let known = &knowledge.tests[*test];
                self.asked(known.minutes);
                self.live += usize::from(known.state.is_powered());
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
