//! `trees list`: what the knowledge holds.

use std::fmt;
use std::io::{self, Write};

use clap::{Args, ValueEnum};
use serde_json::{Value as Json, json};

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::{Format, OrLines, Printed};
use crate::cli::printing::as_json;
use crate::knowledge::cited::Source;
use crate::knowledge::model::{CauseIndex, Effect, Hold, Knowledge, Outcome, Test, TestKind};
use crate::quantity::{ValueKind, Word};

/// Arguments of `trees list`.
#[derive(Debug, Args)]
pub struct ListArgs {
    /// What to list; everything is counted when left out
    #[arg(value_enum)]
    pub what: Option<What>,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
    /// The form.
    #[command(flatten)]
    pub print: Printed<OrLines>,
}

/// What can be listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum What {
    /// What a technician is called for
    Complaints,
    /// Kinds of equipment and the parts they have
    Equipment,
    /// What can be wrong
    Causes,
    /// What can be found out about a fault, with its states
    Effects,
    /// Looks, readings and calculations with their outcomes
    Tests,
    /// Dangers, what they stop and what clears them
    Holds,
    /// Values of an installation
    Facts,
}

/// Runs the command.
pub(super) fn run(args: &ListArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    match (args.print.form, args.what) {
        (Format::Json, what) => {
            write!(out, "{}", as_json(&listed(knowledge, what))?)?;
        }
        (_, None) => {
            let rows = [
                (knowledge.complaints().len(), "complaints"),
                (knowledge.equipment.len(), "equipment"),
                (knowledge.causes.len(), "causes"),
                (knowledge.effects.len(), "effects"),
                (knowledge.tests.len(), "tests"),
                (knowledge.holds.len(), "holds"),
                (knowledge.facts.len(), "facts"),
            ];
            for (number, noun) in rows {
                writeln!(out, "{number:>5} {noun}")?;
            }
            writeln!(
                out,
                "\nSee one of them with `lineside trees list tests`, for example."
            )?;
        }
        (_, Some(what)) => list_text(knowledge, what, out)?,
    }
    Ok(())
}

fn list_text(knowledge: &Knowledge, what: What, out: &mut dyn Write) -> io::Result<()> {
    let row = |out: &mut dyn Write, id: &str, name: &dyn fmt::Display| writeln!(out, "{id:<36} {name}");
    match what {
        What::Complaints => {
            for (tree, complaint) in knowledge.complaints() {
                row(out, &tree.id, &complaint)?;
            }
        }
        What::Equipment => {
            for equipment in &knowledge.equipment {
                row(out, &equipment.id, &equipment.name)?;
                writeln!(out, "    {}", equipment.parts.join(", "))?;
            }
        }
        What::Causes => {
            for cause in &knowledge.causes {
                row(out, &cause.id, &cause.name)?;
            }
        }
        What::Effects => {
            for effect in &knowledge.effects {
                row(out, &effect.id, &effect.name)?;
                for state in &effect.states {
                    writeln!(out, "    {:<32} {}", state.id, state.says)?;
                }
            }
        }
        What::Tests => {
            for test in &knowledge.tests {
                row(out, &test.id, &test.name)?;
                for outcome in &test.outcomes {
                    writeln!(out, "    {:<32} {}", outcome.id, outcome.label)?;
                }
            }
        }
        What::Holds => {
            for hold in &knowledge.holds {
                row(out, &hold.id, &hold.name)?;
                for (test, outcomes) in cleared_by(knowledge, hold) {
                    writeln!(out, "    cleared by {test}: {}", outcomes.join(", "))?;
                }
            }
        }
        What::Facts => {
            for fact in &knowledge.facts {
                row(out, &fact.id, &format!("{} ({})", fact.name, fact.kind.wanted()))?;
            }
        }
    }
    Ok(())
}

fn listed(knowledge: &Knowledge, what: Option<What>) -> Json {
    let wanted = |one: What| what.is_none_or(|what| what == one);
    let mut all = serde_json::Map::new();
    all.insert("knowledge".to_owned(), json!(knowledge.fingerprint));
    if wanted(What::Complaints) {
        let list: Vec<_> = knowledge
            .complaints()
            .into_iter()
            .map(|(tree, complaint)| json!({ "id": tree.id, "complaint": complaint }))
            .collect();
        all.insert("complaints".to_owned(), json!(list));
    }
    if wanted(What::Equipment) {
        let list: Vec<_> = knowledge
            .equipment
            .iter()
            .map(|equipment| {
                json!({ "id": equipment.id, "name": equipment.name, "parts": equipment.parts,
                        "accessories": equipment.accessories })
            })
            .collect();
        all.insert("equipment".to_owned(), json!(list));
    }
    if wanted(What::Causes) {
        let list = (0..knowledge.causes.len()).map(|place| cause_json(knowledge, CauseIndex(place)));
        all.insert("causes".to_owned(), list.collect());
    }
    if wanted(What::Effects) {
        let list: Vec<_> = knowledge.effects.iter().map(effect_json).collect();
        all.insert("effects".to_owned(), json!(list));
    }
    if wanted(What::Tests) {
        all.insert(
            "tests".to_owned(),
            knowledge
                .tests
                .iter()
                .map(|test| test_json(knowledge, test))
                .collect(),
        );
    }
    if wanted(What::Holds) {
        let list: Vec<_> = knowledge
            .holds
            .iter()
            .map(|hold| {
                let cleared_by: serde_json::Map<String, Json> = cleared_by(knowledge, hold)
                    .map(|(test, outcomes)| (test.to_owned(), json!(outcomes)))
                    .collect();
                json!({
                    "id": hold.id, "name": hold.name, "stops": hold.stops, "from_start": hold.from_start,
                    "proved_anew": hold.proved_anew, "cleared_by": cleared_by, "says": hold.says,
                    "source": texts(&hold.source),
                })
            })
            .collect();
        all.insert("holds".to_owned(), json!(list));
    }
    if wanted(What::Facts) {
        let list: Vec<_> = knowledge
            .facts
            .iter()
            .map(|fact| {
                let choices: Vec<_> = fact.choices.iter().map(|choice| choice.id.as_str()).collect();
                json!({
                    "id": fact.id, "name": fact.name, "ask": fact.ask, "find": fact.find,
                    "takes": kind_name(fact.kind), "choices": choices, "parts": fact.parts,
                })
            })
            .collect();
        all.insert("facts".to_owned(), json!(list));
    }
    Json::Object(all)
}

/// The complaints a cause is listed with, each with the share of its callbacks.
pub(super) fn complaints_json(knowledge: &Knowledge, cause: CauseIndex) -> Json {
    let complaints = knowledge.complaints_of(cause).into_iter();
    let shares = complaints.map(|(tree, share)| (knowledge.trees[tree].id.clone(), json!(share)));
    Json::Object(shares.collect())
}

fn cause_json(knowledge: &Knowledge, index: CauseIndex) -> Json {
    let cause = &knowledge.causes[index];
    let complaints = complaints_json(knowledge, index);
    json!({
        "id": cause.id, "name": cause.name, "place": cause.place, "job": cause.job,
        "parts": cause.parts, "base": cause.base,
        "family": cause.family.map(|family| knowledge.families[family].id.as_str()),
        "complaints": complaints, "remedy": cause.remedy,
        "proof": cause.proof, "source": texts(&cause.source),
    })
}

/// The tests that clear a hold, each with the outcomes that do.
fn cleared_by<'k>(knowledge: &'k Knowledge, hold: &'k Hold) -> impl Iterator<Item = (&'k str, Vec<&'k str>)> {
    hold.cleared_by.iter().map(|(test, outcomes)| {
        let test = &knowledge.tests[*test];
        let outcomes = outcomes.iter().map(|outcome| test.outcomes[*outcome].id.as_str());
        (test.id.as_str(), outcomes.collect())
    })
}

fn effect_json(effect: &Effect) -> Json {
    let states: Vec<_> = effect
        .states
        .iter()
        .map(|state| json!({ "id": state.id, "usual": state.usual, "says": state.says }))
        .collect();
    json!({ "id": effect.id, "name": effect.name, "states": states })
}

fn test_json(knowledge: &Knowledge, test: &Test) -> Json {
    let shows = |outcome: &Outcome| -> serde_json::Map<String, Json> {
        let shown = outcome.shows.iter().map(|shown| {
            let effect = &knowledge.effects[shown.effect];
            let states: Vec<_> = shown
                .states
                .iter()
                .map(|state| &effect.states[*state].id)
                .collect();
            (effect.id.clone(), json!(states))
        });
        shown.collect()
    };
    let finds = |outcome: &Outcome| -> serde_json::Map<String, Json> {
        let found = outcome.finds.iter();
        let found = found.map(|(cause, chance)| (knowledge.causes[*cause].id.clone(), json!(chance)));
        found.collect()
    };
    let outcomes: Vec<_> = test
        .outcomes
        .iter()
        .map(|outcome| {
            json!({
                "id": outcome.id, "label": outcome.label, "usual": outcome.usual,
                "shows": shows(outcome), "finds": finds(outcome), "says_nothing": outcome.says_nothing,
            })
        })
        .collect();
    let (kind, unit) = match &test.kind {
        TestKind::Look => ("look", None),
        TestKind::Reading { symbol, .. } => ("reading", Some(symbol.as_str())),
        TestKind::Calculation { .. } => ("calculation", None),
    };
    json!({
        "id": test.id, "kind": kind, "unit": unit, "name": test.name, "ask": test.ask,
        "state": test.state, "hazard": test.hazard, "minutes": test.minutes, "parts": test.parts,
        "outcomes": outcomes, "source": texts(&test.source),
    })
}

fn texts(sources: &[Source]) -> Vec<&str> {
    sources.iter().map(|source| source.text.as_str()).collect()
}

fn kind_name(kind: ValueKind) -> String {
    match kind {
        ValueKind::Quantity(kind) => kind.word().to_owned(),
        ValueKind::Quantities(_) => "currents".to_owned(),
        ValueKind::Size => "size".to_owned(),
        ValueKind::Choice => "choice".to_owned(),
        ValueKind::Loads => "loads".to_owned(),
    }
}
