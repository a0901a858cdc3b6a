//! `lineside report`: one case as a page for one reader, as text or HTML, or as data.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::drawing::case as page_of_case;
use crate::files;
use crate::journal::{self, check};
use crate::knowledge::model::Knowledge;
use crate::report::page::render;
use crate::report::page::{Page, Reader};
use crate::report::{CaseResult, schema, text};
use crate::walk::{self, Event, Walk};

use super::answers;
use super::case::named_file;
use super::printing::{print, print_marked};
use super::problem::Done;
use super::result::{json, layout};
use super::shared::Shared;
use super::{Problem, knowledge, learn, photographs};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside report --case last                         everything, as text
  lineside report --case last -o case.html            everything, as a page
  lineside report --case last --for electrician -o work.html
  lineside report --case last --for customer -o customer.html
  lineside report --answers examples/NAME.toml        answered from a file
  lineside report --schema                            JSON Schema of the result";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct ReportArgs {
    /// The case: a file, its name in the folder of cases, the beginning of an id, or `last`
    #[arg(long, value_name = "NAME", conflicts_with = "answers", required_unless_present_any = ["answers", "schema"])]
    case: Option<PathBuf>,
    /// Answer from this file instead; nothing is kept
    #[arg(long, value_name = "FILE.toml")]
    answers: Option<PathBuf>,
    /// Whom it is for; text and JSON for the manager hold everything
    #[arg(long = "for", value_enum, value_name = "READER", default_value = "manager")]
    reader: For,
    /// Form; left out, the ending of the file to write tells: .html, .json, else text
    #[arg(long, value_enum, value_name = "FORM")]
    format: Option<Form>,
    /// File to write instead of the standard output
    #[arg(short, long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Use cause frequencies learned from a shop's cases by `lineside learn`
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    all_causes: bool,
    /// Print the JSON Schema of the result, of this and of `diagnose --format json`
    #[arg(long, exclusive = true)]
    schema: bool,
    #[command(flatten)]
    shared: Shared,
}

/// Whom a report is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum For {
    /// What to correct on the line side, with figure, basis and reading
    Electrician,
    /// Plain words on one sheet
    Customer,
    /// Everything
    Manager,
}

/// Form of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For a terminal
    Text,
    /// One page that needs nothing else, for a phone or paper
    Html,
    /// For a program
    Json,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the case or the answers cannot be used, or the report cannot be written.
pub(super) fn run(args: &ReportArgs) -> Result<Done, Problem> {
    if args.schema {
        let text = serde_json::to_string_pretty(&schema())
            .map_err(|error| Problem::data(format!("cannot write the schema: {error}")))?;
        print(&format!("{text}\n"))?;
        return Ok(Done::Well);
    }
    let knowledge = knowledge::load(args.shared.trees.as_deref())?;
    let mut result = result(args, &knowledge)?.ok_or_else(|| {
        Problem::data("there is no report before complaint and equipment are known")
            .hint("go on with the case first: `lineside --case FILE`")
    })?;
    let reader = match args.reader {
        For::Electrician => Reader::Electrician,
        For::Customer => Reader::Customer,
        For::Manager => Reader::Manager,
    };
    let form = args.format.unwrap_or_else(|| by_ending(args.out.as_deref()));
    let text = match form {
        Form::Json => json(result, args.all_causes)?,
        Form::Html => {
            if let Some(case) = &args.case {
                photographs::find(&mut result.head.photographs, &named_file(case)?);
            }
            page_of_case::write(&Page::new(&result, reader, Timestamp::now()), &result)
        }
        Form::Text => {
            let mut layout = layout(&args.shared);
            layout.color &= args.out.is_none();
            match reader {
                Reader::Manager => text::render(&result, layout),
                _ => render(&Page::new(&result, reader, Timestamp::now()), &result, layout),
            }
        }
    };
    match &args.out {
        Some(path) => {
            files::write_whole(path, &text)?;
            print(&format!("Written: {}\n", path.display()))?;
        }
        None if form == Form::Text => print_marked(&text)?,
        None => print(&text)?,
    }
    Ok(Done::Well)
}

fn by_ending(path: Option<&Path>) -> Form {
    let ending = path
        .and_then(Path::extension)
        .map(|ending| ending.to_ascii_lowercase());
    match ending.as_ref().and_then(|ending| ending.to_str()) {
        Some("html" | "htm" | "xhtml") => Form::Html,
        Some("json") => Form::Json,
        _ => Form::Text,
    }
}

fn result(args: &ReportArgs, knowledge: &Knowledge) -> Result<Option<CaseResult>, Problem> {
    let mut walk = match &args.shop {
        None => Walk::new(knowledge),
        Some(path) => Walk::new(knowledge).learned(learn::counts(path)?),
    };
    if let Some(file) = &args.answers {
        let mut answers = answers::read_answers(file, knowledge)?;
        walk::drive::<std::convert::Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
            .map_err(|error| Problem::data(format!("{}: {error}", file.display())))?;
        return Ok(CaseResult::new(&walk));
    }
    let Some(name) = &args.case else {
        return Ok(None);
    };
    let path = named_file(name)?;
    let case = journal::read_file(&path).map_err(|error| Problem::of_case(&error))?;
    let mut again = walk.clone();
    for unknown in case.replay(&mut walk) {
        super::printing::remark(&format!("an earlier answer is left out: {unknown}"));
    }
    let mut result = CaseResult::of_case(&walk, &case, TimeZone::system());
    let differences = check::compare(&case, &mut again).differences;
    for said in check::remarks(&case).iter().chain(&differences) {
        super::printing::remark(&format!("{}: {said}", path.display()));
        if let Some(result) = result.as_mut().filter(|_| said.grave) {
            result.head.doubts.push(said.to_string());
        }
    }
    Ok(result)
}
