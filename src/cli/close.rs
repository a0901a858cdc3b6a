//! `lineside close`: what was found in the end, so that a shop can learn from its cases.

use std::path::PathBuf;

use clap::Args;

use crate::inference::learn::NOT_LISTED;
use crate::knowledge::nearest::unknown;
use crate::walk::{Event, Walk};

use super::case_file::{CaseFile, Whereabouts, secured};
use super::{Done, Problem, Shared, keeping, knowledge, print};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside close --case FILE --cause loose-disconnect-lug --proved '12 mV at 21 A, as its twin'
  lineside close --case FILE --cause not-listed --text 'mouse nest in the inducer'";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct CloseArgs {
    /// The case
    #[arg(long, value_name = "FILE")]
    case: PathBuf,
    /// Id of the cause that was found, or `not-listed`
    #[arg(long, value_name = "ID")]
    cause: String,
    /// The reading that proved the repair; without it the case counts half
    #[arg(long, value_name = "TEXT")]
    proved: Option<String>,
    /// What was done, where nothing proved it
    #[arg(long, value_name = "TEXT", conflicts_with = "proved")]
    text: Option<String>,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When the case cannot be used, has no complaint yet, or the cause is unknown.
pub(super) fn run(args: &CloseArgs) -> Result<Done, Problem> {
    let knowledge = knowledge::load(args.shared.trees.as_deref())?;
    let cause = (args.cause != NOT_LISTED).then(|| args.cause.clone());
    if let Some(id) = &cause
        && knowledge.cause(id).is_none()
    {
        let known = knowledge
            .causes
            .iter()
            .map(|cause| cause.id.as_str())
            .chain([NOT_LISTED]);
        return Err(Problem::usage(unknown("cause", id, known)));
    }
    if !args.case.exists() {
        return Err(
            Problem::data(format!("there is no case file `{}`", args.case.display()))
                .hint("`lineside --case FILE` starts one"),
        );
    }
    let mut walk = Walk::new(&knowledge);
    let mut file = CaseFile::take_up(&args.case, &Whereabouts::default(), &mut walk)?.file;
    if walk.complaint().is_none() || walk.equipment().is_none() {
        return Err(Problem::data(format!(
            "the case `{}` has no complaint or equipment yet",
            args.case.display()
        ))
        .hint("go on with it first: `lineside --case FILE`"));
    }
    let event = Event::Closed {
        cause,
        not_listed: None,
        proved: args.proved.is_some(),
        text: args
            .proved
            .clone()
            .or_else(|| args.text.clone())
            .unwrap_or_default(),
    };
    file.append(&event).map_err(|error| keeping::problem(&error))?;
    secured(&mut file)?;
    let how = if args.proved.is_some() {
        "proved by a reading"
    } else {
        "not proved by a reading, so it counts half"
    };
    print(&format!("Closed: {}, {how}.\n", args.cause))?;
    Ok(Done::Well)
}
