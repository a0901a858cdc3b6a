//! A technician who was never there: answers by the true cause, and now and then skips, errs, leans, takes back or stops.

use std::cell::Cell;
use std::rc::Rc;

use fastrand::Rng;

use crate::inference::shares;
use crate::knowledge::model::{OutcomeIndex, TestIndex, TestKind};
use crate::quantity::Word;
use crate::walk::{
    LEANING_WORD, NO_ACCESSORY, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk,
};

use super::answers;
use super::words::REMARKS;

/// What a technician is like: chances at each question.
#[derive(Clone, Copy, Debug)]
pub(super) struct Habits {
    /// Could not check it.
    pub(super) skips: f64,
    /// Sees what is usual in place of what is there.
    pub(super) errs: f64,
    /// Is not sure.
    pub(super) leans: f64,
    /// Stops for the day.
    pub(super) stops: f64,
    /// Minutes a test takes, over those it should take.
    pub(super) pace: f64,
}

impl Habits {
    /// The habits of a technician by number: always the same for the same number.
    pub(super) fn of(technician: usize) -> Self {
        let mut rng = Rng::with_seed(0x7ec4_0000 + technician as u64);
        let mut between = |low: f64, high: f64| low + rng.f64() * (high - low);
        Self {
            skips: between(0.04, 0.18),
            errs: between(0.005, 0.06),
            leans: between(0.02, 0.12),
            stops: between(0.002, 0.012),
            pace: between(0.7, 1.6),
        }
    }
}

/// More replies than any walk of a real person; then this one stops.
const MOST_REPLIES: usize = 500;

/// A technician at one case.
pub(super) struct Person {
    pub(super) rng: Rng,
    pub(super) habits: Habits,
    /// Id of the complaint.
    pub(super) complaint: String,
    /// Id of the equipment; nothing before the first case of the unit.
    pub(super) equipment: Option<String>,
    /// Id of the true cause wanted; nothing to sample one.
    pub(super) wanted: Option<String>,
    /// Place of the true cause in the model; one behind the last is something not listed.
    pub(super) truth: Option<usize>,
    /// Minutes spent since somebody last took them from here.
    pub(super) clock: Rc<Cell<f64>>,
    pub(super) replies: usize,
    refused: bool,
}

impl Person {
    pub(super) fn new(rng: Rng, habits: Habits, complaint: String) -> Self {
        Self {
            rng,
            habits,
            complaint,
            equipment: None,
            wanted: None,
            truth: None,
            clock: Rc::default(),
            replies: 0,
            refused: false,
        }
    }

    fn happens(&mut self, chance: f64) -> bool {
        self.rng.f64() < chance
    }

    fn spends(&self, minutes: f64) {
        self.clock.set(self.clock.get() + minutes);
    }

    fn accessories(&mut self, walk: &Walk<'_>) -> Reply {
        let own = walk.installation().map_or(&[][..], |own| &own.accessories);
        match self.rng.u8(..10) {
            0..4 => Reply::CouldNotCheck,
            4..7 if !own.is_empty() => Reply::Answer(own[self.rng.usize(..own.len())].clone()),
            _ => Reply::Answer(NO_ACCESSORY.to_owned()),
        }
    }

    /// What the person can tell or check, of what was offered: about half of what may be known from the start, most of what can
    /// be checked later.
    fn takes(&mut self, walk: &Walk<'_>, tests: &[TestIndex], known: bool) -> Reply {
        let chance = if known { 0.5 } else { 0.8 };
        let taken = tests.iter().filter(|_| self.happens(chance));
        Reply::listed(taken.map(|test| walk.knowledge().tests[*test].id.as_str()))
    }

    /// The true cause, once it is known what can be there.
    fn settle(&mut self, walk: &Walk<'_>) {
        let (None, Some(model)) = (self.truth, walk.model()) else {
            return;
        };
        let wanted = self
            .wanted
            .as_deref()
            .and_then(|id| model.place(walk.knowledge().cause(id)?));
        self.truth = Some(wanted.unwrap_or_else(|| shares::pick(&mut self.rng, model.priors())));
    }

    fn test(&mut self, walk: &Walk<'_>, test: TestIndex) -> Reply {
        let known = &walk.knowledge().tests[test];
        let minutes = known.minutes * self.habits.pace * (0.5 + self.rng.f64());
        self.spends(minutes);
        // Who stands before a danger looks; who is to open a panel may not get to it.
        let skips = if known.safety { 0.01 } else { self.habits.skips };
        if self.happens(skips) {
            return Reply::CouldNotCheck;
        }
        let (Some(model), Some(truth)) = (walk.model(), self.truth) else {
            return Reply::CouldNotCheck;
        };
        let errs = self.happens(self.habits.errs);
        let seen = if errs { model.priors().len() - 1 } else { truth };
        let Some(shares) = answers::shares(model, test, seen) else {
            return Reply::CouldNotCheck;
        };
        let outcome = OutcomeIndex(shares::pick(&mut self.rng, &shares));
        if matches!(known.kind, TestKind::Look) && self.happens(self.habits.leans) {
            return Reply::Answer(format!("{LEANING_WORD}{}", known.outcomes[outcome].id));
        }
        Reply::Answer(answers::typed(walk, test, outcome, &mut self.rng))
    }

    /// A fact is read off the plate, unless the calculation that wants it should come out with a broken limit.
    fn fact(
        &mut self,
        walk: &Walk<'_>,
        fact: crate::knowledge::model::FactIndex,
        wanted_by: Option<TestIndex>,
    ) -> Reply {
        let violates = walk.model().zip(self.truth).is_some_and(|(model, truth)| {
            let Some(wanted_by) = wanted_by else { return false };
            let outcomes = &walk.knowledge().tests[wanted_by].outcomes;
            answers::shares(model, wanted_by, truth).is_some_and(|shares| {
                shares
                    .iter()
                    .zip(outcomes)
                    .filter(|(_, outcome)| outcome.defect.is_some())
                    .map(|(share, _)| share)
                    .sum::<f64>()
                    > 0.4
            })
        });
        if violates || self.happens(0.2) {
            return Reply::CouldNotCheck;
        }
        match answers::fact(walk, fact, &mut self.rng) {
            Some(value) => Reply::Answer(value),
            None => Reply::CouldNotCheck,
        }
    }
}

impl Respondent for Person {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let walk = prompt.walk;
        self.replies += 1;
        let minutes = 0.2 + 0.5 * self.rng.f64();
        self.spends(minutes);
        if std::mem::take(&mut self.refused) {
            return Ok(Reply::CouldNotCheck);
        }
        match prompt.question {
            Question::Complaint => return Ok(Reply::Answer(self.complaint.clone())),
            Question::Equipment => {
                let offered = walk.equipment_offered();
                let sampled = offered[self.rng.usize(..offered.len())];
                let id = &walk.knowledge().equipment[sampled].id;
                let known = self.equipment.clone().filter(|own| {
                    offered
                        .iter()
                        .any(|kind| walk.knowledge().equipment[*kind].id == *own)
                });
                return Ok(Reply::Answer(known.unwrap_or_else(|| id.clone())));
            }
            Question::Accessories => return Ok(self.accessories(walk)),
            Question::Offer { tests, known } => return Ok(self.takes(walk, tests, *known)),
            Question::Able { among } => {
                return Ok(Reply::listed(among.iter().map(|ability| ability.word())));
            }
            Question::Halt { .. } | Question::Finish => return Ok(Reply::Accept),
            _ => self.settle(walk),
        }
        if self.replies >= MOST_REPLIES || (self.replies > 8 && self.happens(self.habits.stops)) {
            return Ok(Reply::Stop);
        }
        if self.replies > 8 && self.happens(0.008) {
            return Ok(Reply::Back(1));
        }
        if self.happens(0.006) {
            return Ok(Reply::Note(REMARKS[self.rng.usize(..REMARKS.len())].to_owned()));
        }
        Ok(match prompt.question {
            Question::Fact { fact, wanted_by } => self.fact(walk, *fact, *wanted_by),
            Question::Test { test, .. } => self.test(walk, *test),
            Question::Caution { .. } if self.happens(0.04) => Reply::CouldNotCheck,
            _ => Reply::Accept,
        })
    }

    fn refused(&mut self, _: &Refusal) {
        self.refused = true;
    }
}
