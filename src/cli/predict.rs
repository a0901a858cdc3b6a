//! `lineside predict`: what each leading cause of a case would have the meter show, before it is measured.

use std::convert::Infallible;
use std::path::PathBuf;

use clap::Args;

use crate::journal::{self, check};
use crate::knowledge::model::Knowledge;
use crate::report::predicted;
use crate::rig::predict;
use crate::walk::{self, Event, Walk};

use super::answers::read_answers;
use super::case::named_file;
use super::options::Format;
use super::printing::{print, print_marked, remark};
use super::problem::Done;
use super::result::layout;
use super::shared::Shared;
use super::{Problem, knowledge, learn, settings};

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
    /// The case: a file, its name in the folder of cases, the beginning of an id, or `last`
    #[arg(
        long,
        value_name = "NAME",
        conflicts_with = "answers",
        required_unless_present_any = ["answers", "schema"]
    )]
    case: Option<PathBuf>,
    /// Answer from this file instead; nothing is kept
    #[arg(long, value_name = "FILE.toml")]
    answers: Option<PathBuf>,
    /// Print the JSON Schema of `--format json`
    #[arg(long, exclusive = true)]
    schema: bool,
    /// Form of the result
    #[arg(
        long,
        value_enum,
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true
    )]
    format: Format,
    /// Use cause frequencies learned from a shop's cases by `lineside learn`
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the case or the answers cannot be used, or complaint and equipment are not known.
pub(super) fn run(args: &PredictArgs) -> Result<Done, Problem> {
    if args.schema {
        let text = serde_json::to_string_pretty(&predict::schema())
            .map_err(|error| Problem::data(format!("cannot write the schema: {error}")))?;
        print(&format!("{text}\n"))?;
        return Ok(Done::Well);
    }
    let knowledge = knowledge::load(args.shared.trees.as_deref())?;
    let walk = walked(args, &knowledge)?;
    let prediction = predict::of(&walk).ok_or_else(|| {
        Problem::data("nothing can be worked out before complaint and equipment are known")
            .hint("go on with the case first: `lineside --case FILE`")
    })?;
    match args.format {
        Format::Json => {
            let text = serde_json::to_string_pretty(&prediction)
                .map_err(|error| Problem::data(format!("cannot write the result as JSON: {error}")))?;
            print(&format!("{text}\n"))?;
        }
        Format::Text => print_marked(&predicted::render(&prediction, layout(&args.shared)))?,
    }
    Ok(Done::Well)
}

/// The walk of the case or of the answers, as far as it came.
fn walked<'k>(args: &PredictArgs, knowledge: &'k Knowledge) -> Result<Walk<'k>, Problem> {
    let mut walk = match args.shop.as_ref().or(settings::held().shop_file.as_ref()) {
        None => Walk::new(knowledge),
        Some(path) => Walk::new(knowledge).learned(learn::counts(path)?),
    };
    if let Some(file) = &args.answers {
        let mut answers = read_answers(file, knowledge)?;
        walk::drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
            .map_err(|error| Problem::data(format!("{}: {error}", file.display())))?;
    } else if let Some(name) = &args.case {
        let path = named_file(name)?;
        let case = journal::read_file(&path).map_err(|error| Problem::of_case(&error))?;
        for unknown in case.replay(&mut walk) {
            remark(&format!("an earlier answer is left out: {unknown}"));
        }
        for said in check::remarks(&case) {
            remark(&format!("{}: {said}", path.display()));
        }
    }
    Ok(walk)
}
