//! `trees`: check the knowledge and list what it holds; scoring and drawing have files of their own.

use std::fmt;
use std::io::{self, IsTerminal, Write};
use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};
use serde_json::{Value as Json, json};
use thiserror::Error;

use crate::drawing::FigureError;
use crate::knowledge::finding::Severity;
use crate::knowledge::model::{Knowledge, TestKind};
use crate::knowledge::{Files, FolderError, LoadError, check, load, render};
use crate::quantity::ValueKind;
use crate::standards::registry::Calculation;

use super::Color;

/// Check and list the causes, tests, facts and trees
#[derive(Debug, Args)]
pub struct TreesArgs {
    /// What to do.
    #[command(subcommand)]
    pub command: TreesCommand,
}

/// What to do with the knowledge.
#[derive(Debug, Subcommand)]
pub enum TreesCommand {
    /// Check every file and say where each fault is and how to mend it
    Check(CheckArgs),
    /// List complaints, equipment, causes, tests or facts
    List(ListArgs),
    /// Draw cases from the knowledge itself and count how often and how soon the true cause is found
    Score(super::score::ScoreArgs),
    /// Draw a tree as a picture, or everything as one page
    #[command(after_help = super::draw::EXAMPLES)]
    Draw(super::draw::DrawArgs),
}

/// Arguments of `trees check`.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Folder to read in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Show findings with this code only (may be repeated)
    #[arg(long = "only", value_name = "CODE")]
    pub only: Vec<String>,
    /// Colour: auto, always or never; auto obeys `NO_COLOR`
    #[arg(
        long,
        value_enum,
        value_name = "WHEN",
        hide_possible_values = true,
        default_value = "auto",
        hide_default_value = true
    )]
    pub color: Color,
}

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

/// How to print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For a person
    #[default]
    Text,
    /// One line for each finding or entry
    Short,
    /// For a program
    Json,
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

/// Why `trees` could not do its work.
#[derive(Debug, Error)]
pub enum TreesError {
    /// The knowledge cannot be used.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// The folder cannot be read.
    #[error(transparent)]
    Folder(#[from] FolderError),
    /// A code asked for that no rule has.
    #[error("no rule `{code}` ({hint})")]
    NoSuchRule {
        /// What was asked for.
        code: String,
        /// What to write.
        hint: String,
    },
    /// A complaint or equipment asked for that there is not.
    #[error("{0}")]
    NoSuch(String),
    /// A tree cannot be drawn.
    #[error(transparent)]
    Figure(#[from] FigureError),
    /// A file cannot be written.
    #[error("cannot write `{}`: {source}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The output could not be written.
    #[error("cannot write the output: {0}")]
    Output(#[from] io::Error),
    /// The output could not be made.
    #[error("cannot make JSON: {0}")]
    Json(#[from] serde_json::Error),
}

/// Runs the command; the answer is the exit code: 0 clean, 1 findings.
///
/// # Errors
/// When the knowledge cannot be read or the output cannot be written.
pub fn run(
    args: &TreesArgs,
    catalogue: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<u8, TreesError> {
    match &args.command {
        TreesCommand::Check(args) => run_check(args, catalogue, out),
        TreesCommand::List(args) => run_list(args, catalogue, out),
        TreesCommand::Score(args) => {
            super::score::run(args, catalogue, out)?;
            Ok(0)
        }
        TreesCommand::Draw(args) => {
            super::draw::run(args, catalogue, out)?;
            Ok(0)
        }
    }
}

fn run_check(
    args: &CheckArgs,
    catalogue: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<u8, TreesError> {
    use crate::knowledge::finding::Code;
    use crate::knowledge::nearest::did_you_mean;
    for code in &args.only {
        if !Code::ALL.iter().any(|known| known.as_str() == code) {
            let hint = did_you_mean(
                code,
                Code::ALL.iter().map(|known| known.as_str()),
                "see the table of rules",
            );
            return Err(TreesError::NoSuchRule {
                code: code.clone(),
                hint,
            });
        }
    }
    let files = args
        .trees
        .as_deref()
        .map_or_else(|| Ok(Files::embedded()), Files::read)?;
    let mut checked = check(files, catalogue);
    if !args.only.is_empty() {
        checked
            .findings
            .retain(|finding| args.only.iter().any(|code| code == finding.code.as_str()));
    }
    let number = |severity| {
        checked
            .findings
            .iter()
            .filter(|finding| finding.severity == severity)
            .count()
    };
    let (errors, warnings) = (number(Severity::Error), number(Severity::Warning));
    match args.format {
        Format::Text | Format::Short => {
            for finding in &checked.findings {
                if args.format == Format::Short {
                    writeln!(out, "{}", render::line(&checked.files, finding))?;
                } else {
                    writeln!(
                        out,
                        "{}\n",
                        render::snippet(
                            &checked.files,
                            finding,
                            args.color.decide(io::stdout().is_terminal())
                        )
                    )?;
                }
            }
            if checked.partial {
                writeln!(
                    out,
                    "The rules about routes and signs were left out; they run when the errors above are mended."
                )?;
            }
            writeln!(
                out,
                "{} checked: {}, {}",
                render::count(checked.files.list.len(), "file"),
                render::count(errors, "error"),
                render::count(warnings, "warning")
            )?;
        }
        Format::Json => {
            let findings: Vec<_> = checked
                .findings
                .iter()
                .map(|finding| render::data(&checked.files, finding))
                .collect();
            let all = json!({
                "files": checked.files.list.len(),
                "errors": errors,
                "warnings": warnings,
                "partial": checked.partial,
                "findings": findings,
            });
            writeln!(out, "{}", serde_json::to_string_pretty(&all)?)?;
        }
    }
    Ok(u8::from(!checked.findings.is_empty()))
}

fn run_list(
    args: &ListArgs,
    catalogue: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<u8, TreesError> {
    let knowledge = load(args.trees.as_deref(), catalogue)?;
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
                (complaints(&knowledge).count(), "complaints"),
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
            for (id, complaint) in complaints(knowledge) {
                row(out, id, &complaint)?;
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

fn complaints(knowledge: &Knowledge) -> impl Iterator<Item = (&str, &str)> {
    knowledge
        .trees
        .iter()
        .filter_map(|tree| Some((tree.id.as_str(), tree.complaint.as_deref()?)))
}

fn as_json(knowledge: &Knowledge, what: Option<What>) -> Json {
    let wanted = |one: What| what.is_none_or(|what| what == one);
    let mut all = serde_json::Map::new();
    all.insert("knowledge".to_owned(), json!(knowledge.fingerprint));
    if wanted(What::Complaints) {
        let list: Vec<_> = complaints(knowledge)
            .map(|(id, complaint)| json!({ "id": id, "complaint": complaint }))
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
                    "proof": cause.proof, "source": cause.source,
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
        "outcomes": outcomes, "source": test.source,
    })
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
