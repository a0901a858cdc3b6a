//! `trees`: the commands for whoever keeps the knowledge, each in a file of its own.

mod about;
mod check;
mod diff;
mod draw;
mod field;
mod list;
mod matrix;
mod rig;
mod schema;
mod score;
mod sources;
mod standing;
mod template;

use std::io::{self, Write};

use clap::{Args, Subcommand, ValueEnum};
use thiserror::Error;

use crate::drawing::FigureError;
use crate::files::{ReadError, WriteError};
use crate::knowledge::{FolderError, LoadError};
use crate::standards::registry::Calculation;

use super::Color;

/// Check and list the causes, tests, facts and trees
#[derive(Debug, Args)]
pub struct TreesArgs {
    /// What to do.
    #[command(subcommand)]
    pub command: TreesCommand,
}

impl TreesArgs {
    /// Whether what is printed carries marks of weight and color.
    pub(super) fn is_marked(&self) -> bool {
        matches!(&self.command, TreesCommand::Check(args) if args.is_marked())
    }
}

/// What to do with the knowledge.
#[derive(Debug, Subcommand)]
pub enum TreesCommand {
    /// Check every file and say where each fault is and how to fix it
    Check(check::CheckArgs),
    /// List complaints, equipment, causes, effects, tests or facts
    List(list::ListArgs),
    /// Show all that is said of one cause, and what each test would show under it
    About(about::AboutArgs),
    /// Count what the claims rest on: standards, publications, practice, memory
    Sources(sources::SourcesArgs),
    /// Show which causes the tests tell apart, and which not
    Matrix(matrix::MatrixArgs),
    /// Print the JSON Schema of one kind of file, for editors
    Schema(schema::SchemaArgs),
    /// Print a commented beginning for a new cause, test or tree
    Template(template::TemplateArgs),
    /// Tell what an edited folder changes, and what that does to example cases
    Diff(diff::DiffArgs),
    /// Draw cases from the knowledge itself and count how often and how soon the true cause is found
    Score(score::ScoreArgs),
    /// Draw a tree as a picture, or everything as one page
    #[command(after_help = draw::EXAMPLES)]
    Draw(draw::DrawArgs),
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
    /// An answer file cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A folder of answer files cannot be read.
    #[error("cannot read `{path}`: {source}")]
    Unreadable {
        /// Which.
        path: String,
        /// What the system said.
        source: io::Error,
    },
    /// A tree cannot be drawn.
    #[error(transparent)]
    Figure(#[from] FigureError),
    /// A file cannot be written.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// The output could not be written.
    #[error("cannot write the output: {0}")]
    Output(#[from] io::Error),
    /// The output could not be made.
    #[error("cannot make JSON: {0}")]
    Json(#[from] serde_json::Error),
}

impl TreesError {
    /// What to do about it, where the message does not say.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Read(error) => Some(error.hint()),
            Self::Write(error) => Some(error.hint()),
            _ => None,
        }
    }
}

/// Runs the command; the answer is the exit code: 0 clean, 1 findings.
///
/// # Errors
/// When the knowledge cannot be read or the output cannot be written.
pub fn run(args: &TreesArgs, catalog: &'static [Calculation], out: &mut dyn Write) -> Result<u8, TreesError> {
    match &args.command {
        TreesCommand::Check(args) => check::run(args, catalog, out),
        TreesCommand::List(args) => list::run(args, catalog, out),
        TreesCommand::About(args) => about::run(args, catalog, out).map(|()| 0),
        TreesCommand::Sources(args) => sources::run(args, catalog, out).map(|()| 0),
        TreesCommand::Matrix(args) => matrix::run(args, catalog, out).map(|()| 0),
        TreesCommand::Schema(args) => schema::run(args, catalog, out).map(|()| 0),
        TreesCommand::Template(args) => template::run(args, out).map(|()| 0),
        TreesCommand::Diff(args) => diff::run(args, catalog, out).map(|()| 0),
        TreesCommand::Score(args) => score::run(args, catalog, out).map(|_| 0),
        TreesCommand::Draw(args) => draw::run(args, catalog, out).map(|()| 0),
    }
}
