//! `trees`: the commands for whoever keeps the knowledge, each in a file of its own.

mod about;
mod check;
mod diff;
mod draw;
mod field;
mod list;
mod matrix;
mod physics;
mod rig;
mod say;
mod schema;
mod score;
mod sources;
mod standing;
mod template;

use std::io::Write;

use clap::{Args, Subcommand};

use super::Problem;
use super::options::Color;
use super::problem::Done;

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
    /// List complaints, equipment, causes, effects, tests, holds or facts
    List(list::ListArgs),
    /// Show all that is said of one cause, and what each test would show under it
    About(about::AboutArgs),
    /// Count what the claims rest on: standards, publications, practice, memory
    Sources(sources::SourcesArgs),
    /// Show which causes the tests tell apart, and which not
    #[command(after_help = matrix::CSV)]
    Matrix(matrix::MatrixArgs),
    /// Print the JSON Schema of one kind of file, for editors
    Schema(schema::SchemaArgs),
    /// Print a commented beginning for a new cause, test or tree
    Template(template::TemplateArgs),
    /// Tell what an edited folder changes, and what that does to example cases
    Diff(diff::DiffArgs),
    /// Draw cases from the knowledge itself and count how often and how soon the true cause is found
    Score(score::ScoreArgs),
    /// Show where the physics of a simulated installation disagrees with what is said of a cause
    Physics(physics::PhysicsArgs),
    /// Draw a tree as a picture, or everything as one page
    #[command(after_help = draw::EXAMPLES)]
    Draw(draw::DrawArgs),
}

/// Runs the command.
///
/// # Errors
/// When the knowledge cannot be read or the output cannot be written.
pub fn run(args: &TreesArgs, out: &mut dyn Write) -> Result<Done, Problem> {
    match &args.command {
        TreesCommand::Check(args) => return check::run(args, out),
        TreesCommand::List(args) => list::run(args, out),
        TreesCommand::About(args) => about::run(args, out),
        TreesCommand::Sources(args) => sources::run(args, out),
        TreesCommand::Matrix(args) => matrix::run(args, out),
        TreesCommand::Schema(args) => schema::run(args, out),
        TreesCommand::Template(args) => template::run(args, out),
        TreesCommand::Diff(args) => diff::run(args, out),
        TreesCommand::Score(args) => score::run(args, out).map(|_| ()),
        TreesCommand::Physics(args) => physics::run(args, out),
        TreesCommand::Draw(args) => draw::run(args, out),
    }?;
    Ok(Done::Well)
}
