//! `lineside report`: one case as a page for one reader, as text or HTML, or as data.

use std::path::{Path, PathBuf};

use clap::Args;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::drawing::case as page_of_case;
use crate::files;
use crate::report::page::render;
use crate::report::page::{Page, Reader};
use crate::report::{CaseResult, schema, text};

use super::options::{Format, word};
use super::printing::{self, print, print_marked};
use super::problem::Done;
use super::result::{json, layout};
use super::shared::Shared;
use super::taken::{CaseTyped, Taken};
use super::{Problem, photographs};

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
    #[command(flatten)]
    which: CaseTyped,
    /// Whom it is for; text and JSON for the manager hold everything
    #[arg(long = "for", value_parser = word::<Reader>(), value_name = "READER", default_value = "manager")]
    reader: Reader,
    /// Form; left out, the ending of the file to write tells: .html, .json, else text
    #[arg(long, value_name = "FORM", value_parser = Format::among(&[Format::Text, Format::Html, Format::Json]))]
    format: Option<Format>,
    /// File to write instead of the standard output
    #[arg(short, long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    all_causes: bool,
    /// Print the JSON Schema of the result, of this and of `diagnose --format json`
    #[arg(long, exclusive = true)]
    schema: bool,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the case or the answers cannot be used, or the report cannot be written.
pub(super) fn run(args: &ReportArgs) -> Result<Done, Problem> {
    if args.schema {
        print(&printing::as_json(&schema())?)?;
        return Ok(Done::Well);
    }
    let knowledge = args.shared.knowledge.load()?;
    let taken = args.which.take(knowledge)?;
    let mut result = result(&taken).ok_or_else(|| {
        Problem::data("there is no report before complaint and equipment are known")
            .hint("go on with the case first: `lineside --case FILE`")
    })?;
    let form = args.format.unwrap_or_else(|| by_ending(args.out.as_deref()));
    let text = match form {
        Format::Json => json(result, args.all_causes)?,
        Format::Html => {
            if let Some((path, _)) = &taken.kept {
                photographs::find(&mut result.head.photographs, path);
            }
            page_of_case::write(&Page::new(&result, args.reader, Timestamp::now()), &result)
        }
        _ => {
            let mut layout = layout(&args.shared);
            layout.color &= args.out.is_none();
            match args.reader {
                Reader::Manager => text::render(&result, layout),
                _ => render(
                    &Page::new(&result, args.reader, Timestamp::now()),
                    &result,
                    layout,
                ),
            }
        }
    };
    match &args.out {
        Some(path) => {
            files::write_whole(path, &text)?;
            print(&format!("Written: {}\n", path.display()))?;
        }
        None if form == Format::Text => print_marked(&text)?,
        None => print(&text)?,
    }
    Ok(Done::Well)
}

fn by_ending(path: Option<&Path>) -> Format {
    let ending = path
        .and_then(Path::extension)
        .map(|ending| ending.to_ascii_lowercase());
    match ending.as_ref().and_then(|ending| ending.to_str()) {
        Some("html" | "htm" | "xhtml") => Format::Html,
        Some("json") => Format::Json,
        _ => Format::Text,
    }
}

fn result(taken: &Taken<'_>) -> Option<CaseResult> {
    let mut result = match &taken.kept {
        Some((_, case)) => CaseResult::of_case(&taken.walk, case, TimeZone::system()),
        None => CaseResult::new(&taken.walk),
    }?;
    let grave = taken.remarks.iter().filter(|said| said.grave);
    result.head.doubts.extend(grave.map(ToString::to_string));
    Some(result)
}
