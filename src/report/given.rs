//! What was given, in order: every answer and fact that counts, with the question as it was put.

use jiff::Timestamp;
use schemars::JsonSchema;
use serde::Serialize;

use crate::journal::{Case, Record};
use crate::knowledge::model::{FactIndex, State, TestIndex};
use crate::quantity::Value;
use crate::walk::{Event, Given, Resolution, Walk, standing};

use super::spot::{Spot, spot};

/// One thing given.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct GivenShown {
    /// When, RFC 3339; nothing where the walk is kept in no file.
    #[schemars(with = "Option<String>", extend("format" = "date-time"))]
    pub at: Option<Timestamp>,
    /// `complaint`, `equipment`, `accessories`, `fact`, `look` or `reading`.
    pub kind: &'static str,
    /// Id of the tree, equipment, fact or test.
    pub id: String,
    /// Its short name.
    pub name: String,
    /// The question as it was put.
    pub ask: String,
    /// The answer in words: a label, or a figure with its unit.
    pub said: String,
    /// The value of a fact, or the reading.
    pub value: Option<Value>,
    /// Id of the outcome it came to; nothing where it has none.
    pub outcome: Option<String>,
    /// The person was sure of it.
    pub sure: bool,
    /// It was found out; otherwise it could not be checked or found.
    pub known: bool,
    /// Where on the way from the utility to the load it belongs.
    pub spot: Option<Spot>,
    /// What state the equipment is in while a look or reading is made; nothing for what is no test.
    pub state: Option<State>,
}

/// Moments of the entries of a walk, from the file it was replayed from.
pub(super) fn times(walk: &Walk<'_>, case: &Case) -> Vec<Option<Timestamp>> {
    // What the knowledge has lost is in the file and not in the walk.
    let mut moments = standing(case.records.iter().map(Moment)).into_iter();
    walk.entries()
        .iter()
        .map(|entry| {
            moments
                .find(|moment| moment.0.event == *entry)
                .map(|moment| moment.0.at)
        })
        .collect()
}

/// A record that `standing` can look into.
struct Moment<'r>(&'r Record);

impl std::borrow::Borrow<Event> for Moment<'_> {
    fn borrow(&self) -> &Event {
        &self.0.event
    }
}

/// Everything given that counts; what was corrected later stands once, where it was corrected.
pub(super) fn given(walk: &Walk<'_>, times: &[Option<Timestamp>]) -> Vec<GivenShown> {
    let entries = walk.entries();
    let mut shown = Vec::new();
    for (place, entry) in entries.iter().enumerate() {
        if entries[place + 1..].iter().any(|later| corrects(later, entry)) {
            continue;
        }
        if let Some(mut one) = one(walk, entry) {
            one.at = times.get(place).copied().flatten();
            shown.push(one);
        }
    }
    shown
}

fn corrects(later: &Event, entry: &Event) -> bool {
    match (later, entry) {
        (Event::Complaint { .. }, Event::Complaint { .. })
        | (Event::Equipment { .. }, Event::Equipment { .. })
        | (Event::Accessories { .. }, Event::Accessories { .. }) => true,
        (Event::Fact { fact: one, .. }, Event::Fact { fact: other, .. }) => one == other,
        (Event::Answer { test: one, .. }, Event::Answer { test: other, .. }) => one == other,
        _ => false,
    }
}

fn one(walk: &Walk<'_>, entry: &Event) -> Option<GivenShown> {
    let knowledge = walk.knowledge();
    let plain = |kind, id: &str, name: &str, ask: &str, said: String| GivenShown {
        at: None,
        kind,
        id: id.to_owned(),
        name: name.to_owned(),
        ask: ask.to_owned(),
        said,
        value: None,
        outcome: None,
        sure: true,
        known: true,
        spot: None,
        state: None,
    };
    match entry {
        Event::Complaint { complaint } => {
            let tree = &knowledge.trees[knowledge.tree(complaint)?];
            let said = tree.complaint.clone().unwrap_or_else(|| tree.id.clone());
            Some(plain(
                "complaint",
                complaint,
                "Complaint",
                "What is the complaint?",
                said,
            ))
        }
        Event::Equipment { equipment } => {
            let kind = &knowledge.equipment[knowledge.equipment(equipment)?];
            Some(plain(
                "equipment",
                equipment,
                "Equipment",
                "What equipment is it?",
                kind.name.clone(),
            ))
        }
        Event::Accessories { fitted } => {
            let said = fitted
                .as_ref()
                .map_or_else(|| "not known".to_owned(), |ids| accessories(walk, ids));
            let mut shown = plain(
                "accessories",
                "accessories",
                "Fitted besides",
                "What is fitted to it besides?",
                said,
            );
            shown.known = fitted.is_some();
            Some(shown)
        }
        Event::Fact { fact, value, .. } => {
            let index = knowledge.fact(fact)?;
            let known = &knowledge.facts[index];
            let said = value.as_ref().map_or_else(
                || "could not be found".to_owned(),
                |value| fact_words(walk, index, value),
            );
            let mut shown = plain("fact", fact, &known.name, &known.ask, said);
            shown.value.clone_from(value);
            shown.known = value.is_some();
            shown.spot = spot(&known.name, "");
            Some(shown)
        }
        Event::Answer { test, given, .. } => {
            let index = knowledge.test(test)?;
            Some(answer(walk, index, given))
        }
        _ => None,
    }
}

fn answer(walk: &Walk<'_>, index: TestIndex, given: &Given) -> GivenShown {
    let test = &walk.knowledge().tests[index];
    let outcome = match walk.resolution(index) {
        Resolution::Known(outcome) => Some(&test.outcomes[outcome]),
        _ => None,
    };
    let label = outcome.map(|outcome| match walk.picked(index).as_slice() {
        picked @ [_, _, ..] => {
            let labels = picked
                .iter()
                .map(|outcome| test.outcomes[*outcome].label.as_str());
            labels.collect::<Vec<_>>().join("; ")
        }
        _ => outcome.label.clone(),
    });
    let reading = walk.reading(index);
    let (kind, said) = match (given, reading) {
        (Given::Reading(_), Some(reading)) => (
            "reading",
            label.map_or_else(|| reading.to_string(), |label| format!("{reading} ({label})")),
        ),
        (Given::CouldNotCheck, _) => ("look", "could not be checked".to_owned()),
        _ => ("look", label.unwrap_or_else(|| "no outcome".to_owned())),
    };
    GivenShown {
        at: None,
        kind,
        id: test.id.clone(),
        name: test.name.clone(),
        ask: test.ask.clone(),
        said,
        value: reading.map(Value::Quantity),
        outcome: outcome.map(|outcome| outcome.id.clone()),
        sure: !matches!(given, Given::Leaning(_)),
        known: !matches!(given, Given::CouldNotCheck),
        spot: spot(&test.name, &test.id),
        state: Some(test.state),
    }
}

fn accessories(walk: &Walk<'_>, ids: &[String]) -> String {
    if ids.is_empty() {
        return "none".to_owned();
    }
    let knowledge = walk.knowledge();
    let names: Vec<String> = ids
        .iter()
        .map(|id| {
            knowledge
                .accessories
                .iter()
                .find(|accessory| accessory.id == *id)
                .map_or_else(|| id.clone(), |accessory| accessory.name.clone())
        })
        .collect();
    names.join(", ")
}

/// A value of a fact in words: the label of a choice, the text of anything else.
pub(super) fn fact_words(walk: &Walk<'_>, fact: FactIndex, value: &Value) -> String {
    match value {
        Value::Choice(id) => walk.knowledge().facts[fact]
            .choices
            .iter()
            .find(|choice| choice.id == *id)
            .map_or_else(|| id.clone(), |choice| choice.label.clone()),
        other => other.to_string(),
    }
}
