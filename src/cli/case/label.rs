//! `case label`: where a case is, and who is on it.

use std::path::PathBuf;

use clap::Args;

use crate::cli::Problem;
use crate::cli::case_file::{CaseFile, Whereabouts, secured};
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::journal::JournalError;
use crate::walk::Walk;

use super::named;

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct LabelArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
pub(super) fn run(args: &LabelArgs) -> Result<Done, Problem> {
    if args.who.is_empty() {
        return Err(Problem::usage("nothing to say about the case")
            .hint("give one of `--place TEXT`, `--unit TEXT`, `--technician NAME`"));
    }
    let knowledge = args.shared.knowledge.load()?;
    let mut walk = Walk::new(knowledge);
    let path = named::file(&args.name)?;
    let mut file = CaseFile::take_up(&path, &args.who, &mut walk)?.file;
    if file.is_closed() {
        return Err(JournalError::Closed { path }.into());
    }
    file.write_pending()?;
    secured(&mut file)?;
    print("Kept.\n")?;
    Ok(Done::Well)
}
