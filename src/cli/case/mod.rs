//! `lineside case`: what can be done with cases that are kept, each command in a file of its own.

mod ask;
mod close;
mod copy;
mod dangers;
mod earlier;
mod label;
mod list;
mod named;
mod photo;
mod prove;
mod reopen;
mod scan;
mod show;
mod words;

use clap::{Args, Subcommand};

use crate::journal;

use super::Problem;
use super::printing;
use super::printing::print;
use super::problem::Done;

pub(super) use close::{CloseArgs, EXAMPLES as CLOSE_EXAMPLES, run as run_close};
pub(super) use earlier::Earlier;
pub(super) use named::{file as named_file, or_new as named_or_new};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside case list --open                    what is not closed yet
  lineside case find freezer --since 2026-01-01
  lineside case show last                      a case as it stands; nothing is added to it
  lineside case repaired last 'freezer on a circuit of its own' --by JR
  lineside case proved last --reading '9.8 A at the breaker, as at the unit'
  lineside case close last                     choose what it was
  lineside case reopen NAME                    the trouble came back
  lineside case export NAME --anonymous -o FILE

NAME is the file of a case, its name in the folder of cases, the beginning of its id, or `last`.";

/// List, find, show, close, reopen and hand over cases
#[derive(Args, Clone, Debug)]
pub(crate) struct CaseArgs {
    /// What to do.
    #[command(subcommand)]
    command: CaseCommand,
}

/// What to do with cases.
#[derive(Clone, Debug, Subcommand)]
enum CaseCommand {
    /// List the cases of a folder, the newest last
    List(list::ListArgs),
    /// Find cases by words
    #[command(after_help = list::FIND_EXAMPLES)]
    Find(list::FindArgs),
    /// Show a case without touching its file
    #[command(after_help = show::EXAMPLES)]
    Show(show::ShowArgs),
    /// Say where a case is: place, unit, technician
    Label(label::LabelArgs),
    /// Attach photographs, by their place and hash
    Photo(photo::PhotoArgs),
    /// Say what was repaired, and by whom
    Repaired(prove::RepairedArgs),
    /// Say what proved the repair: a reading, or running clean long enough
    #[command(after_help = prove::EXAMPLES)]
    Proved(prove::ProvedArgs),
    /// Say what it was in the end
    #[command(after_help = close::EXAMPLES)]
    Close(CloseArgs),
    /// Open a callback on a closed case: the trouble came back
    Reopen(reopen::ReopenArgs),
    /// Copy a case to another file, whole or without anything that tells whose it is
    #[command(after_help = copy::EXAMPLES)]
    Export(copy::ExportArgs),
    /// Put what can be read of a damaged case into a new file
    Mend(copy::MendArgs),
    /// Print the JSON Schema of a line of a case file
    Schema,
}

/// Runs the command.
///
/// # Errors
/// When a case cannot be found, read or written.
pub(super) fn run(args: &CaseArgs) -> Result<Done, Problem> {
    match &args.command {
        CaseCommand::List(args) => list::run(args),
        CaseCommand::Find(args) => list::find(args),
        CaseCommand::Show(args) => show::run(args),
        CaseCommand::Label(args) => label::run(args),
        CaseCommand::Photo(args) => photo::run(args),
        CaseCommand::Repaired(args) => prove::repaired(args),
        CaseCommand::Proved(args) => prove::proved(args),
        CaseCommand::Close(args) => close::run(args),
        CaseCommand::Reopen(args) => reopen::run(args),
        CaseCommand::Export(args) => copy::export(args),
        CaseCommand::Mend(args) => copy::mend(args),
        CaseCommand::Schema => schema(),
    }
}

fn schema() -> Result<Done, Problem> {
    print(&printing::as_json(&journal::schema())?)?;
    Ok(Done::Well)
}
