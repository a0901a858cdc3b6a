//! `lineside predict`: what each leading cause of a case would have the meter show, before it is measured.

use clap::Args;

use crate::report::predicted;
use crate::rig::predict;

use super::Problem;
use super::options::{Format, Printed};
use super::printing::{as_json, print, print_marked};
use super::problem::Done;
use super::result::layout;
use super::shared::Shared;
use super::taken::CaseTyped;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside predict --case last                     leaves its file as it is
  lineside predict --answers examples/NAME.toml    answered from a file
  lineside predict --case last --format json       for another program
  lineside predict --schema                        JSON Schema of that";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct PredictArgs {
    #[command(flatten)]
    which: CaseTyped,
    /// Print the JSON Schema of `--format json`
    #[arg(long, exclusive = true)]
    schema: bool,
    #[command(flatten)]
    print: Printed,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the case or the answers cannot be used, or complaint and equipment are not known.
pub(super) fn run(args: &PredictArgs) -> Result<Done, Problem> {
    if args.schema {
        print(&as_json(&predict::schema())?)?;
        return Ok(Done::Well);
    }
    let knowledge = args.shared.knowledge.load()?;
    let taken = args.which.take(knowledge)?;
    let prediction = predict::of(&taken.walk).ok_or_else(|| {
        Problem::data("nothing can be worked out before complaint and equipment are known")
            .hint("go on with the case first: `lineside --case FILE`")
    })?;
    match args.print.form {
        Format::Json => print(&as_json(&prediction)?)?,
        _ => print_marked(&predicted::render(&prediction, layout(&args.shared)))?,
    }
    Ok(Done::Well)
}
