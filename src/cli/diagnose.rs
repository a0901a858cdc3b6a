//! `lineside diagnose`: one case, from the complaint to the result.

use std::path::Path;

use crate::knowledge::model::Knowledge;
use crate::walk::{self, DriveError, End, Event};

use super::answers::read_answers;
use super::beforehand::Beforehand;
use super::case::named_or_new;
use super::case_file::{CaseFile, secured};
use super::diagnose_args::DiagnoseArgs;
use super::problem::Done;
use super::result::show;
use super::{Problem, interview};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside diagnose                                   start a new case
  lineside diagnose --case NAME                       go on with a case where it stood
  lineside diagnose --answers examples/NAME.toml      answer from a file
  lineside diagnose --answers FILE --format json      the result for another program";

/// Runs the command.
///
/// # Errors
/// When the knowledge, the answers or the case cannot be used, or the case broke off.
pub(super) fn run(args: &DiagnoseArgs) -> Result<Done, Problem> {
    // Before a person answers forty questions for a result that cannot be shown.
    super::printing::can_print()?;
    let knowledge = args.shared.knowledge.load()?;
    match &args.answers {
        Some(file) => from_answers(args, knowledge, file),
        None => interview::run(args, knowledge),
    }
}

fn from_answers(args: &DiagnoseArgs, knowledge: &Knowledge, answer_file: &Path) -> Result<Done, Problem> {
    let mut answers = read_answers(answer_file, knowledge)?;
    for misfit in answers.misfits() {
        super::printing::remark(&format!("{}: {misfit}", answer_file.display()));
    }
    let mut walk = args.shop.walk(knowledge)?;
    let case = args.case().map(named_or_new).transpose()?;
    let mut file = match &case {
        None => None,
        Some(path) if path.exists() => {
            return Err(
                Problem::data(format!("the case file `{}` exists already", path.display()))
                    .hint("answers from a file start a new case; give a name that does not exist yet"),
            );
        }
        Some(path) => Some(CaseFile::take_up(path, &args.who, &mut walk)?.file),
    };
    let mut told = Beforehand::new(&mut answers, args.edition());
    let end = walk::drive(&mut walk, &mut told, &mut |event: &Event| match &mut file {
        Some(file) => file.append(event),
        None => Ok(()),
    });
    if let Some(file) = file.as_mut().filter(|_| end.is_ok()) {
        secured(file)?;
    }
    let kept = file.map(CaseFile::done);
    match end {
        Ok(End::Finished | End::Halted | End::Stopped) => show(args, &walk, kept.as_deref()),
        Err(DriveError::Respondent(error)) => {
            Err(Problem::data(format!("{}: {error}", answer_file.display())))
        }
        Err(DriveError::Keep(error)) => Err(error.into()),
    }
}
