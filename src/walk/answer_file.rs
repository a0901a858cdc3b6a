//! An answer file: a case written down beforehand, which answers the walk like a person would.
//!
//! ```toml
//! equipment = "split-air-conditioner"
//! complaint = "breaker-opens"
//! accessories = ["humidifier"]      # optional: what is fitted besides; [] = nothing, left out = not known
//! note = "invented"                 # optional: kept as a note
//!
//! [facts]
//! nameplate-voltage = "230 V"       # a value as a person would type it; numbers need no quotes
//!
//! [answers]
//! when-does-it-happen = "after-minutes"
//! unit-current-running = "24.1 A"
//! what-changed = "likely load-added"   # thought so, without being sure
//! replaced-without-cure = ["capacitor", "contactor-or-relay"]   # several, where several can be true
//! voltage-at-unit-running = "low"      # a reading without its figure: the id or label of an outcome
//!
//! [if-asked]                        # answers and facts that come out only when the walk asks for them
//! capacitor-bench = "12 uF"
//!
//! [expect]                          # for tests of the knowledge; ignored by `diagnose`
//! cause = "shared-circuit-overload"
//! ```
//! Every answer under `[answers]` counts, whether or not the tree asks for it. What is asked and not answered here
//! could not be checked.

use indexmap::IndexMap;
use serde::Deserialize;
use thiserror::Error;
use toml::Spanned;

use crate::files::Limit;
use crate::knowledge::model::{Knowledge, OutcomeIndex, TestIndex};
use crate::knowledge::nearest::unknown;
use crate::quantity::Word;

use super::{
    Ability, Event, NO_ACCESSORY, Prompt, Question, Refusal, Reply, Resolution, Respondent, RespondentError,
    Walk,
};

/// The largest answer file read. A real one is a few kilobytes.
pub const LARGEST: Limit = Limit {
    what: "an answer file",
    bytes: 1_000_000,
};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    equipment: Spanned<String>,
    complaint: Spanned<String>,
    accessories: Option<Vec<Spanned<String>>>,
    note: Option<String>,
    #[serde(default)]
    facts: IndexMap<Spanned<String>, toml::Value>,
    #[serde(default)]
    answers: IndexMap<Spanned<String>, toml::Value>,
    #[serde(default, rename = "if-asked")]
    if_asked: IndexMap<Spanned<String>, toml::Value>,
    expect: Option<Expect>,
}

/// What a test of the knowledge expects of the case.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expect {
    /// Id of the intended cause.
    pub cause: Option<String>,
    /// The cause must be among this many leaders; 1 when left out.
    pub within: Option<usize>,
    /// Ids of tests whose outcome must be a defect.
    #[serde(default)]
    pub defects: Vec<String>,
}

/// Why an answer file cannot be used.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum AnswerFileError {
    /// It is not TOML of this form.
    #[error("line {line}: {message}")]
    Form {
        /// Line of the fault, from 1.
        line: usize,
        /// What is wrong, from the TOML reader.
        message: String,
    },
    /// It is too large to be one.
    #[error("{size} bytes are too many for an answer file, expected at most {}", LARGEST.bytes)]
    TooLarge {
        /// Its size in bytes.
        size: usize,
    },
    /// An id or a value makes no sense.
    #[error("line {line}: {message}")]
    Content {
        /// Line of the fault, from 1.
        line: usize,
        /// What is wrong and what would be right.
        message: String,
    },
}

/// A respondent that answers from a file.
#[derive(Clone, Debug)]
pub struct AnswerFile {
    equipment: String,
    complaint: String,
    note: Option<String>,
    facts: IndexMap<String, String>,
    answers: IndexMap<String, String>,
    if_asked: IndexMap<String, String>,
    /// As it is answered; nothing when not known.
    accessories: Option<String>,
    expect: Option<Expect>,
    /// Replies still to be given before the tree is followed, last first.
    opening: Vec<Reply>,
    refused: Option<Refusal>,
    misfits: Vec<String>,
}

impl AnswerFile {
    /// Reads an answer file and checks every id and value against the knowledge.
    ///
    /// # Errors
    /// Every fault found, each with its line: a form that is not this one, an unknown id (with the nearest
    /// valid one), a value that cannot be.
    pub fn parse(text: &str, knowledge: &Knowledge) -> Result<Self, Vec<AnswerFileError>> {
        if text.len() as u64 > LARGEST.bytes {
            return Err(vec![AnswerFileError::TooLarge { size: text.len() }]);
        }
        let mut raw: Raw = toml::from_str(text).map_err(|error| {
            vec![AnswerFileError::Form {
                line: line_of(text, error.span().map_or(0, |span| span.start)),
                message: error.message().to_owned(),
            }]
        })?;
        // The reader sorts keys by their letters; what was told counts, as at the keyboard, in the order it was written down.
        for given in [&mut raw.facts, &mut raw.answers, &mut raw.if_asked] {
            given.sort_by(|a, _, b, _| a.span().start.cmp(&b.span().start));
        }
        let misfits = check(text, &raw, knowledge)?;
        let facts = plain(raw.facts);
        let answers = plain(raw.answers);
        let if_asked = plain(raw.if_asked);
        let mut opening: Vec<Reply> = Vec::new();
        opening.extend(raw.note.iter().map(|note| Reply::Note(note.clone())));
        opening.extend(facts.iter().map(|(fact, value)| Reply::Correct {
            fact: fact.clone(),
            value: Some(value.clone()),
        }));
        opening.extend(answers.iter().map(|(test, answer)| Reply::Volunteer {
            test: test.clone(),
            answer: Some(answer.clone()),
        }));
        opening.reverse();
        Ok(Self {
            equipment: raw.equipment.into_inner(),
            complaint: raw.complaint.into_inner(),
            note: raw.note,
            facts,
            answers,
            if_asked,
            accessories: raw.accessories.as_deref().map(listed),
            expect: raw.expect.map(|expect| Expect {
                cause: expect.cause.map(|cause| knowledge.cause_id(&cause).to_owned()),
                ..expect
            }),
            opening,
            refused: None,
            misfits,
        })
    }

    /// What is taken though it does not fit the equipment, each with its line.
    #[must_use]
    pub fn misfits(&self) -> &[String] {
        &self.misfits
    }

    /// What the file expects of the case, if it says.
    #[must_use]
    pub fn expect(&self) -> Option<&Expect> {
        self.expect.as_ref()
    }

    /// The note at its head.
    #[must_use]
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// What is told only when asked, by id of test or fact, as written.
    #[must_use]
    pub fn if_asked(&self) -> &IndexMap<String, String> {
        &self.if_asked
    }

    /// The last refusal, which a checked file should never meet.
    #[must_use]
    pub fn refusal(&self) -> Option<&Refusal> {
        self.refused.as_ref()
    }
}

impl AnswerFile {
    /// Those of the tests offered that the file tells when asked.
    fn taken(&self, walk: &Walk<'_>, tests: &[TestIndex]) -> Reply {
        let ids = tests.iter().map(|test| walk.knowledge().tests[*test].id.as_str());
        Reply::listed(ids.filter(|id| self.if_asked.contains_key(*id)))
    }

    /// The kinds of tests the file still has answers for.
    fn able(&self, walk: &Walk<'_>, among: &[Ability]) -> Reply {
        let knowledge = walk.knowledge();
        let left: Vec<Ability> = self
            .if_asked
            .keys()
            .filter_map(|id| knowledge.test(id))
            .filter(|test| walk.resolution(*test) == Resolution::Open)
            .flat_map(|test| Ability::all_of(&knowledge.tests[test]))
            .collect();
        let kinds = among.iter().filter(|kind| left.contains(kind));
        Reply::listed(kinds.map(|kind| kind.word()))
    }
}

impl AnswerFile {
    /// What the file says of looks made together, by what it says of each; nothing where it says nothing of them.
    fn at_once(&self, walk: &Walk<'_>, test: TestIndex) -> Option<String> {
        let knowledge = walk.knowledge();
        let look = &knowledge.tests[test];
        if self.if_asked.contains_key(&look.id) {
            return None;
        }
        let said = look.at_once.iter().filter(|(other, _)| walk.applies(*other));
        let said = said.filter(|(other, _)| walk.resolution(*other) == Resolution::Open);
        let said: Vec<Option<bool>> = said
            .map(|(other, outcome)| {
                let other = &knowledge.tests[*other];
                Some(*self.if_asked.get(&other.id)? == other.outcomes[*outcome].id)
            })
            .collect();
        let well = said.iter().all(|said| *said == Some(true));
        let outcome = said.iter().any(Option::is_some).then_some(usize::from(!well))?;
        Some(look.outcomes[OutcomeIndex(outcome)].id.clone())
    }
}

impl Respondent for AnswerFile {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(refusal) = &self.refused {
            return Err(RespondentError::Refused {
                reason: refusal.reason.clone(),
            });
        }
        let knowledge = prompt.walk.knowledge();
        match prompt.question {
            Question::Complaint => return Ok(Reply::Answer(self.complaint.clone())),
            Question::Equipment => return Ok(Reply::Answer(self.equipment.clone())),
            Question::Accessories => {
                return Ok(match &self.accessories {
                    Some(fitted) => Reply::Answer(fitted.clone()),
                    None => Reply::CouldNotCheck,
                });
            }
            _ => {}
        }
        if let Some(reply) = self.opening.pop() {
            return Ok(reply);
        }
        match prompt.question {
            Question::Offer { tests, .. } => return Ok(self.taken(prompt.walk, tests)),
            Question::Able { among } => return Ok(self.able(prompt.walk, among)),
            _ => {}
        }
        let answer = |known: &IndexMap<String, String>, id: &str| {
            known
                .get(id)
                .or_else(|| self.if_asked.get(id))
                .map_or(Reply::CouldNotCheck, |answer| Reply::Answer(answer.clone()))
        };
        if let Question::Test { test, .. } | Question::Caution { test, .. } = prompt.question
            && let Some(at_once) = self.at_once(prompt.walk, *test)
        {
            return Ok(match prompt.question {
                Question::Caution { .. } => Reply::Accept,
                _ => Reply::Answer(at_once),
            });
        }
        Ok(match prompt.question {
            Question::Fact { fact, .. } => answer(&self.facts, &knowledge.facts[*fact].id),
            Question::Test { test, .. } => answer(&self.answers, &knowledge.tests[*test].id),
            // What the file answers was given at the start, so behind a caution is a test it answers when asked, or
            // one it does not answer.
            Question::Caution { test, .. } => {
                if self.if_asked.contains_key(&knowledge.tests[*test].id) {
                    Reply::Accept
                } else {
                    Reply::CouldNotCheck
                }
            }
            _ => Reply::Accept,
        })
    }

    fn refused(&mut self, refusal: &Refusal) {
        self.refused = Some(refusal.clone());
    }
}

/// Checks ids and values by trying them on a walk of their own, so that the rules are the walk's. Gives back what is
/// taken though it does not fit the equipment.
fn check(text: &str, raw: &Raw, knowledge: &Knowledge) -> Result<Vec<String>, Vec<AnswerFileError>> {
    let mut errors = Vec::new();
    let mut misfits = Vec::new();
    let mut misfit = |start: usize, said: Option<String>| {
        misfits.extend(said.map(|said| format!("line {}: {said}", line_of(text, start))));
    };
    let mut walk = Walk::new(knowledge);
    let fault = |start: usize, message: String| AnswerFileError::Content {
        line: line_of(text, start),
        message,
    };
    for (given, question) in [
        (&raw.complaint, &Question::Complaint),
        (&raw.equipment, &Question::Equipment),
    ] {
        // Without the complaint the equipment would be taken for one; its id is looked up by itself then.
        if walk.question() == question {
            match walk.receive(&Reply::Answer(given.get_ref().clone())) {
                Ok(taken) => {
                    misfit(given.span().start, taken.misfit);
                    take(&mut walk, &taken.event);
                }
                Err(refusal) => errors.push(fault(given.span().start, refusal.reason)),
            }
        } else if knowledge.equipment(given.get_ref()).is_none() {
            let known = knowledge.equipment.iter().map(|kind| kind.id.as_str());
            let reason = unknown("equipment", given.get_ref(), known);
            errors.push(fault(given.span().start, reason));
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let fitting = walk.installation().is_some_and(|own| !own.accessories.is_empty());
    if let Some(first) = raw.accessories.as_ref().and_then(|list| list.first())
        && !fitting
    {
        let message = "nothing is fitted to this equipment besides; leave `accessories` out".to_owned();
        return Err(vec![fault(first.span().start, message)]);
    }
    if let Some(accessories) = raw.accessories.as_ref().filter(|_| fitting) {
        match walk.receive(&Reply::Answer(listed(accessories))) {
            Ok(taken) => take(&mut walk, &taken.event),
            Err(refusal) => {
                let start = accessories.first().map_or(0, |first| first.span().start);
                return Err(vec![fault(start, refusal.reason)]);
            }
        }
    }
    for (id, value) in &raw.facts {
        let reply = Reply::Correct {
            fact: id.get_ref().clone(),
            value: Some(as_typed(value)),
        };
        match walk.receive(&reply) {
            Ok(taken) => {
                misfit(id.span().start, taken.misfit);
                take(&mut walk, &taken.event);
            }
            Err(refusal) => errors.push(fault(id.span().start, format!("`{}`: {refusal}", id.get_ref()))),
        }
    }
    for (id, value) in &raw.answers {
        let reply = Reply::Volunteer {
            test: id.get_ref().clone(),
            answer: Some(as_typed(value)),
        };
        match walk.receive(&reply) {
            Ok(taken) => misfit(id.span().start, taken.misfit),
            Err(refusal) => errors.push(fault(id.span().start, format!("`{}`: {refusal}", id.get_ref()))),
        }
    }
    for (id, value) in &raw.if_asked {
        let (id, start, value) = (id.get_ref(), id.span().start, Some(as_typed(value)));
        let test = knowledge.test(id).map(|_| Reply::Volunteer {
            test: id.clone(),
            answer: value.clone(),
        });
        let fact = knowledge.fact(id).map(|_| Reply::Correct {
            fact: id.clone(),
            value,
        });
        let Some(reply) = test.or(fact) else {
            let tests = knowledge.tests.iter().map(|test| test.id.as_str());
            let facts = knowledge.facts.iter().map(|fact| fact.id.as_str());
            errors.push(fault(start, unknown("test or fact", id, tests.chain(facts))));
            continue;
        };
        match walk.receive(&reply) {
            Ok(taken) => misfit(start, taken.misfit),
            Err(refusal) => errors.push(fault(start, format!("`{id}`: {refusal}"))),
        }
    }
    if let Some(cause) = raw.expect.as_ref().and_then(|expect| expect.cause.as_ref())
        && knowledge.cause(cause).is_none()
    {
        let line = text.find(cause.as_str()).unwrap_or(0);
        let ids = knowledge.causes.iter().map(|cause| cause.id.as_str());
        errors.push(fault(line, unknown("cause", cause, ids)));
    }
    if errors.is_empty() {
        Ok(misfits)
    } else {
        Err(errors)
    }
}

fn take(walk: &mut Walk<'_>, event: &Event) {
    let applied = walk.apply(event);
    debug_assert!(applied.is_ok(), "{applied:?}");
}

fn plain(values: IndexMap<Spanned<String>, toml::Value>) -> IndexMap<String, String> {
    values
        .into_iter()
        .map(|(id, value)| (id.into_inner(), as_typed(&value)))
        .collect()
}

fn as_typed(value: &toml::Value) -> String {
    match value {
        toml::Value::String(text) => text.clone(),
        toml::Value::Boolean(true) => "yes".to_owned(),
        toml::Value::Boolean(false) => "no".to_owned(),
        // Outcomes that are true together.
        toml::Value::Array(list) => list.iter().map(as_typed).collect::<Vec<_>>().join(", "),
        other => other.to_string(),
    }
}

/// Ids of accessories as they are answered.
fn listed(ids: &[Spanned<String>]) -> String {
    if ids.is_empty() {
        return NO_ACCESSORY.to_owned();
    }
    let ids: Vec<&str> = ids.iter().map(|id| id.get_ref().as_str()).collect();
    ids.join(", ")
}

fn line_of(text: &str, offset: usize) -> usize {
    text.bytes().take(offset).filter(|byte| *byte == b'\n').count() + 1
}
