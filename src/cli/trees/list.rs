//! `trees list`: what the knowledge holds.

use std::fmt;
use std::io::{self, Write};
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use serde_json::{Value as Json, json};

use crate::knowledge::cited::Source;
use crate::knowledge::load;
use crate::knowledge::model::{Knowledge, TestKind};
use crate::quantity::ValueKind;
use crate::standards::registry::Calculation;

use super::{Format, TreesError};

/// Arguments of `trees list`.
#[derive(Debug, Args)]
pub struct ListArgs {
    /// What to list; everything is counted when left out
    #[arg(value_enum)]
    pub what: Option<What>,
    /// Folder to read in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
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
    /// Looks, readings and calculations with their outcomes
    Tests,
    /// Values of an installation
    Facts,
}

/// Runs the command; the answer is the exit code.
pub(super) fn run(
    args: &ListArgs,
    catalog: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<u8, TreesError> {
    let knowledge = load(args.trees.as_deref(), catalog)?;
    match (args.format, args.what) {
        (Format::Json, what) => {
            writeln!(
                out,
                "{}",
                serde_json::to_string_pretty(&as_json(&knowledge, what))?
            )?;
        }
        (_, None) => {
            let rows = [
                (knowledge.complaints().len(), "complaints"),
                (knowledge.equipment.len(), "equipment"),
                (knowledge.causes.len(), "causes"),
                (knowledge.tests.len(), "tests"),
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
        (_, Some(what)) => list_text(&knowledge, what, out)?,
    }
    Ok(0)
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
        What::Tests => {
            for test in &knowledge.tests {
                row(out, &test.id, &test.name)?;
                for outcome in &test.outcomes {
                    writeln!(out, "    {:<32} {}", outcome.id, outcome.label)?;
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

fn as_json(knowledge: &Knowledge, what: Option<What>) -> Json {
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
        let list: Vec<_> = knowledge
            .causes
            .iter()
            .map(|cause| {
                json!({
                    "id": cause.id, "name": cause.name, "place": cause.place, "job": cause.job,
                    "parts": cause.parts, "frequency": cause.frequency, "remedy": cause.remedy,
                    "proof": cause.proof, "source": texts(&cause.source),
                })
            })
            .collect();
        all.insert("causes".to_owned(), json!(list));
    }
    if wanted(What::Tests) {
        all.insert(
            "tests".to_owned(),
            knowledge.tests.iter().map(test_json).collect(),
        );
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

fn test_json(test: &crate::knowledge::model::Test) -> Json {
    let outcomes: Vec<_> = test
        .outcomes
        .iter()
        .map(|outcome| json!({ "id": outcome.id, "label": outcome.label, "usual": outcome.usual }))
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
        ValueKind::Quantity(kind) => kind.name().to_owned(),
        ValueKind::Quantities(_) => "currents".to_owned(),
        ValueKind::Size => "size".to_owned(),
        ValueKind::Choice => "choice".to_owned(),
        ValueKind::Loads => "loads".to_owned(),
    }
}
