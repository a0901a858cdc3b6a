//! `case show`: a case as it stands. Its file is only read.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::tz::TimeZone;

use crate::cli::options::{Format, Printed};
use crate::cli::printing::{print, print_marked, remark};
use crate::cli::problem::Done;
use crate::cli::result;
use crate::cli::result::layout;
use crate::cli::shared::Shared;
use crate::cli::{Problem, learn, places};
use crate::journal::check::{self, Comparison};
use crate::journal::life::{Life, Stage};
use crate::journal::{self, Case, Found};
use crate::knowledge::model::Knowledge;
use crate::report::{CaseResult, text};
use crate::walk::Walk;

use super::earlier::Earlier;
use super::{named, words};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside case show last
  lineside case show FILE --head 3fa9-12bc-77de-0a41   is it the case that was printed?
  lineside case show FILE --format json

Exit code 1 says that the file was changed, or that its head is another one.";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct ShowArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// Compare the file with the head printed on a report: at least 8 digits of it
    #[arg(long, value_name = "DIGITS")]
    head: Option<String>,
    /// Use the frequencies this case was walked with
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
    #[command(flatten)]
    print: Printed,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    all_causes: bool,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
pub(super) fn run(args: &ShowArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let path = named::file(&args.name)?;
    let sound = journal::sound_file(&path)?;
    let new_walk = || -> Result<Walk<'_>, Problem> {
        let walk = Walk::new(knowledge);
        match &args.shop {
            None => Ok(walk),
            Some(path) => Ok(walk.learned(learn::counts(path)?)),
        }
    };
    let mut walk = new_walk()?;
    for unknown in sound.case.replay(&mut walk) {
        remark(&format!("{}: an answer is left out: {unknown}", path.display()));
    }
    let comparison = check::compare(&sound.case, &mut new_walk()?);
    let result = CaseResult::of_case(&walk, &sound.case, TimeZone::system());
    match args.print.form {
        Format::Json => {
            if let Some(result) = result {
                print(&result::json(result, args.all_causes)?)?;
            }
        }
        _ => {
            if let Some(result) = result {
                print_marked(&text::render(&result, layout(&args.shared)))?;
            }
            let mut file = file_lines(knowledge, &path, &sound.case, &comparison);
            if sound.busy {
                file.push_str("  somebody has it open; more may come\n");
            }
            print(&file)?;
            if let Some(before) = Life::of(&sound.case).before {
                print(&before_lines(
                    Earlier::find(knowledge, &before, &path).as_ref(),
                    &before.case,
                ))?;
            }
        }
    }
    let mut well = true;
    if let Some(damage) = &sound.damage {
        well = false;
        remark(&damage.to_string());
        remark(&format!(
            "what stands before that line is shown; `lineside case mend {} -o NEW.jsonl` puts all that can be read into a \
             new file",
            named::called(&path)
        ));
    }
    for said in check::remarks(&sound.case).iter().chain(&comparison.differences) {
        well &= !said.grave;
        remark(&format!("{}: {said}", path.display()));
    }
    if let Some(digits) = &args.head {
        well &= compare_head(&path, &sound.case, digits)?;
    }
    Ok(if well { Done::Well } else { Done::Findings })
}

/// What came of the case before, below the file.
fn before_lines(earlier: Option<&Earlier>, id: &str) -> String {
    let mut text = format!("\nTHE VISIT BEFORE (case {id})\n");
    let Some(earlier) = earlier else {
        text.push_str("  its file is not in the folder of this case nor in the folder of cases\n");
        return text;
    };
    for line in earlier.lines.iter().chain(&earlier.plate) {
        let _ = writeln!(text, "  {line}");
    }
    for line in &earlier.dangers {
        let _ = writeln!(text, "  ! {line}");
    }
    text
}

/// What the file is, below the result.
fn file_lines(knowledge: &Knowledge, path: &Path, case: &Case, comparison: &Comparison) -> String {
    let life = Life::of(case);
    let mut text = String::from("\nTHE CASE FILE\n");
    // Writing into a string cannot fail.
    let _ = writeln!(text, "  file        {}", path.display());
    let _ = writeln!(text, "  stage       {}", words::stage(&life));
    if let Some(left) = words::left_standing(knowledge, &life) {
        let _ = writeln!(text, "  !           {left}");
    }
    let chain = match case.unchained() {
        0 => "each follows on the one before".to_owned(),
        all if all == case.links.len() => "written by an earlier program, without a chain".to_owned(),
        some => format!("the first {some} without a chain, each other one follows"),
    };
    let _ = writeln!(text, "  lines       {}, {chain}", case.links.len());
    let _ = writeln!(
        text,
        "  worked out  {} lines agree{}{}",
        comparison.compared - comparison.differences.len(),
        match comparison.differences.len() {
            0 => String::new(),
            some => format!(", {some} do not"),
        },
        match comparison.not_compared {
            0 => String::new(),
            some => format!(", {some} by another program or knowledge"),
        },
    );
    if let Some(head) = case.head() {
        let _ = writeln!(text, "  head        {}", head.printed());
    }
    if life.stage() != Stage::Closed {
        let _ = writeln!(
            text,
            "  go on       lineside --case {0}\n  close       lineside case close {0}",
            places::quoted(path)
        );
    }
    text
}

/// Compares the head with the digits of a report, says how they stand, and whether all is well.
fn compare_head(path: &Path, case: &Case, digits: &str) -> Result<bool, Problem> {
    let name = path.display();
    let count = digits.chars().filter(char::is_ascii_hexdigit).count();
    if count < 8 {
        return Err(Problem::usage(format!(
            "`--head {digits}` has {count} digits, expected 8 or more"
        )));
    }
    let (text, well) = match journal::find_head(&case.links, digits) {
        Found::Head => (
            "\nThe head is the one given: the file is as it was printed.\n".to_owned(),
            true,
        ),
        Found::Earlier(line) => (
            format!(
                "\nThe head given is that of line {line}; {} lines were added since, and those up to it are as \
                 they were printed.\n",
                case.links.len() - line
            ),
            true,
        ),
        Found::Nowhere => (
            format!(
                "\nNO LINE OF {name} HAS THE HEAD GIVEN: it was cut or changed since it was printed, or it is \
                 another case.\n"
            ),
            false,
        ),
    };
    print(&text)?;
    Ok(well)
}
