//! What a reply means: text to event, or a refusal that says why.

use crate::knowledge::model::{FactIndex, Knowledge, Test, TestIndex, TestKind};
use crate::knowledge::nearest::unknown;
use crate::knowledge::spelling::position;
use crate::quantity::{Quantity, ReadError, Value, Word};

use super::worded::sayings;
use super::{Ability, Event, Given, NOTHING, Question, Refusal, Reply, Walk};

/// Before an outcome's id: the person thinks so without being sure.
pub const LEANING_WORD: &str = "likely ";

/// The answer that nothing is fitted besides.
pub const NO_ACCESSORY: &str = "none";

/// Share of a reading that must fall on one outcome for it to be called: our choice, no source.
const CLEAR: f64 = 0.90;

/// A reply that was taken: the event it makes, and what was understood from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// What is kept of it.
    pub event: Event,
    /// One line for the person, when the typed text was interpreted.
    pub understood: Option<String>,
    /// One line that says why it does not fit the equipment, when it does not.
    pub misfit: Option<String>,
}

impl Walk<'_> {
    /// Works out what a reply to the present question means. Changes nothing.
    ///
    /// # Errors
    /// When it makes no sense here; the refusal says why and what would be accepted.
    pub fn receive(&self, reply: &Reply) -> Result<Taken, Refusal> {
        match reply {
            Reply::Back(steps) => self.back(*steps),
            Reply::Note(text) if text.trim().is_empty() => refuse("the note is empty"),
            Reply::Note(text) => plain(Event::Note {
                text: text.trim().to_owned(),
            }),
            Reply::Stop => plain(Event::Stopped),
            Reply::Size => match self.question() {
                Question::Finish if !self.sizing_facts().is_empty() => plain(Event::Sizing),
                _ => refuse("there is nothing to size yet"),
            },
            Reply::Further => match self.question() {
                Question::Finish => plain(Event::Further),
                _ => refuse("there is more to ask anyway"),
            },
            Reply::Volunteer { test, answer } => self.volunteer(test, answer.as_deref()),
            Reply::Correct { fact, value } => self.correct(fact, value.as_deref()),
            Reply::Accept => self.accept(),
            Reply::CouldNotCheck => self.could_not_check(),
            Reply::Answer(text) => self.answer(text),
        }
    }

    fn back(&self, steps: usize) -> Result<Taken, Refusal> {
        match (steps, self.steps()) {
            (0, _) => refuse("0 steps back is where you are"),
            (_, 0) => refuse("this is the first question, there is nothing to take back"),
            (steps, have) => plain(Event::Undone {
                steps: steps.min(have),
            }),
        }
    }

    fn accept(&self) -> Result<Taken, Refusal> {
        match self.question() {
            Question::Caution { state, test } => plain(Event::Acknowledged {
                state: *state,
                test: Some(self.knowledge.tests[*test].id.clone()),
            }),
            Question::Halt { .. } | Question::Finish => plain(Event::Finished),
            _ => refuse("this question needs an answer"),
        }
    }

    fn could_not_check(&self) -> Result<Taken, Refusal> {
        match self.question() {
            Question::Fact { fact, .. } => plain(self.fact_event(*fact, None, "not found")),
            // Declining the caution is declining the test behind it.
            Question::Test { test, .. } | Question::Caution { test, .. } => {
                plain(self.answer_event(*test, Given::CouldNotCheck, false, "could not check"))
            }
            Question::Complaint => {
                refuse("without a complaint there is nothing to look for; pick the nearest one")
            }
            Question::Equipment => refuse("pick the equipment that is nearest to this one"),
            Question::Accessories => plain(Event::Accessories { fitted: None }),
            Question::Offer { tests, .. } => self.taken(NOTHING, tests),
            Question::Able { .. } => plain(Event::Able { to: Vec::new() }),
            Question::Halt { .. } | Question::Finish => refuse("there is nothing to check here"),
        }
    }

    fn answer(&self, text: &str) -> Result<Taken, Refusal> {
        let knowledge = self.knowledge;
        match self.question() {
            Question::Complaint => {
                let complaints = knowledge.complaints();
                let id = choose(
                    text,
                    "complaint",
                    complaints.iter().map(|(tree, _)| tree.id.as_str()),
                )?;
                plain(Event::Complaint { complaint: id })
            }
            Question::Equipment => {
                let id = choose(
                    text,
                    "equipment",
                    knowledge.equipment.iter().map(|e| e.id.as_str()),
                )?;
                let misfit = self.misfit_of_complaint(&id);
                Ok(Taken {
                    event: Event::Equipment { equipment: id },
                    understood: None,
                    misfit,
                })
            }
            Question::Accessories => self.accessories(text),
            Question::Offer { tests, .. } => self.taken(text, tests),
            Question::Able { among } => able(text, among),
            Question::Fact { fact, .. } => self.fact_answer(*fact, text),
            Question::Test { test, .. } => self.test_answer(*test, text, false),
            Question::Caution { .. } => {
                refuse("read the cautions and accept them, or say it cannot be checked")
            }
            Question::Halt { .. } | Question::Finish => refuse("nothing is asked here"),
        }
    }

    /// What can be told or made, of what was offered.
    fn taken(&self, text: &str, offered: &[TestIndex]) -> Result<Taken, Refusal> {
        let ids: Vec<&str> = offered
            .iter()
            .map(|test| self.knowledge.tests[*test].id.as_str())
            .collect();
        let mut taken = Vec::new();
        for id in text.split(',') {
            let id = choose(id, "test", ids.iter().copied().chain([NOTHING]))?;
            if id != NOTHING && !taken.contains(&id) {
                taken.push(id);
            }
        }
        plain(Event::Offered {
            tests: ids.into_iter().map(str::to_owned).collect(),
            taken,
        })
    }

    /// Why equipment cannot have the complaint, when it cannot.
    fn misfit_of_complaint(&self, equipment: &str) -> Option<String> {
        let tree = &self.knowledge.trees[self.complaint()?];
        let kind = &self.knowledge.equipment[self.knowledge.equipment(equipment)?];
        (!tree.fit.fits(kind)).then(|| {
            format!(
                "`{}` is not offered after the complaint `{}`; it is taken as given, so check which of the two is wrong",
                kind.id, tree.id
            )
        })
    }

    fn accessories(&self, text: &str) -> Result<Taken, Refusal> {
        let own = self.installation().map_or(&[][..], |own| &own.accessories);
        let known = || own.iter().map(String::as_str).chain([NO_ACCESSORY]);
        let mut fitted = Vec::new();
        for id in text.split(',') {
            let id = choose(id, "accessory", known())?;
            if id != NO_ACCESSORY && !fitted.contains(&id) {
                fitted.push(id);
            }
        }
        plain(Event::Accessories { fitted: Some(fitted) })
    }

    fn volunteer(&self, test: &str, answer: Option<&str>) -> Result<Taken, Refusal> {
        if self.equipment().is_none() {
            return refuse("say the complaint and the equipment first");
        }
        let index = find_test(self.knowledge, test)?;
        if let TestKind::Calculation { .. } = self.knowledge.tests[index].kind {
            return refuse(&format!(
                "`{test}` is calculated; give the facts and readings it uses instead"
            ));
        }
        if !self.applies(index) {
            return refuse(&format!("`{test}` does not apply to this equipment"));
        }
        match answer {
            None => plain(self.answer_event(index, Given::CouldNotCheck, true, "could not check")),
            Some(text) => self.test_answer(index, text, true),
        }
    }

    fn correct(&self, fact: &str, value: Option<&str>) -> Result<Taken, Refusal> {
        let Some(index) = self.knowledge.fact(fact) else {
            return refuse(&unknown(
                "fact",
                fact,
                self.knowledge.facts.iter().map(|f| f.id.as_str()),
            ));
        };
        match value {
            None => plain(self.fact_event(index, None, "not found")),
            Some(text) => self.fact_answer(index, text),
        }
    }

    fn fact_answer(&self, index: FactIndex, text: &str) -> Result<Taken, Refusal> {
        let fact = &self.knowledge.facts[index];
        let value = fact.read(text).map_err(refusal)?;
        if let (Value::Quantity(quantity), Some((low, high))) = (&value, fact.range) {
            quantity.within((low, high)).map_err(refusal)?;
        }
        if let (Value::Quantities(list), Some((low, high))) = (&value, fact.range) {
            for quantity in list {
                quantity.within((low, high)).map_err(refusal)?;
            }
        }
        let understood = match &value {
            Value::Choice(_) => None,
            value => Some(format!("{}: {value}", fact.name)),
        };
        let misfit = match &value {
            Value::Choice(id) if self.choices_offered(index).iter().all(|choice| choice.id != *id) => {
                let choice = fact.choices.iter().find(|choice| choice.id == *id);
                Some(self.misfit(&fact.name, choice.map_or(id, |choice| &choice.label)))
            }
            _ => None,
        };
        Ok(Taken {
            event: self.fact_event(index, Some(value), text),
            understood,
            misfit,
        })
    }

    fn test_answer(&self, index: TestIndex, text: &str, volunteered: bool) -> Result<Taken, Refusal> {
        let test = &self.knowledge.tests[index];
        let (text_of_outcome, sure) = match text.trim().strip_prefix(LEANING_WORD) {
            Some(rest) => (rest, false),
            None => (text, true),
        };
        let given = |id: String| {
            if sure {
                Given::Outcome(id)
            } else {
                Given::Leaning(id)
            }
        };
        let TestKind::Reading {
            unit, symbol, range, ..
        } = &test.kind
        else {
            if test.several && sure && text.contains(',') {
                return self.outcomes_together(index, text, volunteered);
            }
            let id = choose(
                text_of_outcome,
                "outcome",
                test.outcomes.iter().map(|outcome| outcome.id.as_str()),
            )?;
            let misfit = test
                .outcome(&id)
                .filter(|outcome| !self.outcomes_offered(index).contains(outcome))
                .map(|outcome| self.misfit(&test.name, &test.outcomes[outcome].label));
            return Ok(Taken {
                event: self.answer_event(index, given(id), volunteered, text),
                understood: None,
                misfit,
            });
        };
        if let Some(outcome) = self.outcome_said(index, text_of_outcome) {
            let id = test.outcomes[outcome].id.clone();
            return Ok(Taken {
                event: self.answer_event(index, given(id), volunteered, text),
                understood: self.say_without_figure(index),
                misfit: None,
            });
        }
        if !sure {
            return refuse(&format!(
                "`{text_of_outcome}` is no outcome of this reading; {}",
                in_words(test)
            ));
        }
        let quantity = match Quantity::parse_in(text, *unit, symbol) {
            // An ohmmeter shows it where nothing conducts. An insulation tester shows it on too low a range as well: there a figure counts.
            Err(ReadError::OffRange { .. }) if symbol == "ohm" => Ok(Quantity {
                kind: *unit,
                base: range.1,
            }),
            read => read,
        }
        .map_err(|error| match error {
            ReadError::Empty { .. } | ReadError::NoNumber { .. } | ReadError::OffRange { .. } => Refusal {
                reason: format!("{error}; {}", in_words(test)),
            },
            other => refusal(other),
        })?;
        quantity.within(*range).map_err(refusal)?;
        let understood = self.say_reading(test, index, quantity);
        let event = self.answer_event(index, Given::Reading(quantity), volunteered, text);
        Ok(Taken {
            event,
            understood: Some(understood),
            misfit: None,
        })
    }

    /// Outcomes that are true together; "none" beside another is left out.
    fn outcomes_together(&self, index: TestIndex, text: &str, volunteered: bool) -> Result<Taken, Refusal> {
        let test = &self.knowledge.tests[index];
        let mut ids: Vec<String> = Vec::new();
        for id in text.split(',') {
            let known = test.outcomes.iter().map(|outcome| outcome.id.as_str());
            let id = choose(id, "outcome", known)?;
            let says = test
                .outcome(&id)
                .is_some_and(|outcome| !test.outcomes[outcome].says_nothing);
            if says && !ids.contains(&id) {
                ids.push(id);
            }
        }
        let offered = self.outcomes_offered(index);
        let misfit = ids
            .iter()
            .filter_map(|id| test.outcome(id))
            .find(|outcome| !offered.contains(outcome));
        let misfit = misfit.map(|outcome| self.misfit(&test.name, &test.outcomes[outcome].label));
        let given = match ids.as_slice() {
            [] => return refuse("name at least one of the outcomes"),
            [only] => Given::Outcome(only.clone()),
            _ => Given::Outcomes(ids),
        };
        Ok(Taken {
            event: self.answer_event(index, given, volunteered, text),
            understood: None,
            misfit,
        })
    }

    /// What was understood from a reading; where the meter cannot tell it from a limit, that is said.
    fn say_reading(&self, test: &Test, index: TestIndex, quantity: Quantity) -> String {
        let name = &test.name;
        let Some(outcome) = self.classify(index, quantity) else {
            return match self.held_against(index) {
                Some(other) => format!(
                    "{name}: {quantity}; what that shows cannot be told, since {other} has no figure. {}",
                    in_words(test)
                ),
                None => format!("{name}: {quantity}"),
            };
        };
        let label = &test.outcomes[outcome].label;
        let share = self
            .shares_of(index, quantity)
            .map_or(1.0, |shares| shares[outcome.place()]);
        if share < CLEAR {
            format!(
                "{name}: {quantity}, too close to a limit to call with an ordinary meter; nearest: {label}"
            )
        } else {
            format!("{name}: {quantity}, {label}")
        }
    }

    /// What a reading said in words leaves open; nothing when nobody wants its figure.
    fn say_without_figure(&self, index: TestIndex) -> Option<String> {
        let wants = self.wants_figure_of(index);
        (!wants.is_empty()).then(|| {
            format!(
                "no figure, so these cannot be worked out until there is one: {}",
                wants.join("; ")
            )
        })
    }

    fn fact_event(&self, fact: FactIndex, value: Option<Value>, typed: &str) -> Event {
        Event::Fact {
            fact: self.knowledge.facts[fact].id.clone(),
            value,
            typed: typed.to_owned(),
        }
    }

    fn answer_event(&self, test: TestIndex, given: Given, volunteered: bool, typed: &str) -> Event {
        Event::Answer {
            test: self.knowledge.tests[test].id.clone(),
            given,
            volunteered,
            typed: typed.to_owned(),
        }
    }
}

/// How the outcomes of a reading can be said without a figure.
fn in_words(test: &Test) -> String {
    format!("without a figure, say it in words: {}", sayings(test).join(", "))
}

/// Finds a test by id, or says which ids are near.
pub(super) fn find_test(knowledge: &Knowledge, id: &str) -> Result<TestIndex, Refusal> {
    knowledge.test(id).ok_or_else(|| Refusal {
        reason: unknown("test", id, knowledge.tests.iter().map(|test| test.id.as_str())),
    })
}

fn choose<'a>(text: &str, what: &str, ids: impl Iterator<Item = &'a str> + Clone) -> Result<String, Refusal> {
    let text = text.trim();
    let found = ids.clone().find(|id| id.eq_ignore_ascii_case(text)).or_else(|| {
        ids.clone()
            .nth(position(ids.clone(), &text.to_ascii_lowercase())?)
    });
    match found {
        Some(id) => Ok(id.to_owned()),
        None => Err(Refusal {
            reason: unknown(what, text, ids),
        }),
    }
}

fn plain(event: Event) -> Result<Taken, Refusal> {
    Ok(Taken {
        event,
        understood: None,
        misfit: None,
    })
}

fn refuse(reason: &str) -> Result<Taken, Refusal> {
    Err(Refusal {
        reason: reason.to_owned(),
    })
}

fn refusal(error: impl std::fmt::Display) -> Refusal {
    Refusal {
        reason: error.to_string(),
    }
}

/// What the person can do, of what was offered.
fn able(text: &str, among: &[Ability]) -> Result<Taken, Refusal> {
    let known = || among.iter().map(|ability| ability.word()).chain([NOTHING]);
    let mut to = Vec::new();
    for word in text.split(',') {
        let id = choose(word, "kind of test", known())?;
        to.extend(among.iter().copied().filter(|ability| ability.word() == id));
    }
    plain(Event::Able { to })
}
