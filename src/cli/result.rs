//! The result of a case, printed in the form asked for.

use std::io::IsTerminal;
use std::path::Path;

use jiff::tz::TimeZone;

use crate::journal;
use crate::report::first::Below;
use crate::report::{CaseResult, first, layout, text};
use crate::walk::Walk;

use super::Problem;
use super::diagnose_args::DiagnoseArgs;
use super::options::Format;
use super::printing::{self, print, print_marked};
use super::problem::Done;
use super::shared::Shared;

/// Prints the result of a walk in the form asked for; `kept` is the file of the case, which nobody holds open any more.
pub(super) fn show(args: &DiagnoseArgs, walk: &Walk<'_>, kept: Option<&Path>) -> Result<Done, Problem> {
    let Some(result) = result(walk, kept) else {
        return Ok(Done::Well);
    };
    match args.print.form {
        Format::Json => print(&json(result, args.all_causes)?)?,
        _ => print_marked(&text::render(&result, layout(&args.shared)))?,
    }
    Ok(Done::Well)
}

/// Prints what fits one screen where a person reads it there, so that nothing scrolls the cause away; elsewhere the whole.
pub(super) fn show_first(args: &DiagnoseArgs, walk: &Walk<'_>, kept: &Path) -> Result<Done, Problem> {
    /// Rows left for what is said of the file below it.
    const LEFT: usize = 7;
    let rows = console::Term::stdout()
        .size_checked()
        .map(|(rows, _)| usize::from(rows));
    let (Format::Text, false, Some(rows)) = (args.print.form, args.plain(), rows) else {
        return show(args, walk, Some(kept));
    };
    if let Some(result) = result(walk, Some(kept)) {
        let mut text = first::lines(
            &result,
            layout(&args.shared),
            rows.saturating_sub(LEFT),
            Below::OnPaper,
        )
        .join("\n");
        text.push('\n');
        print_marked(&text)?;
    }
    Ok(Done::Well)
}

/// The result of a walk, with who, when and where if a file keeps it.
pub(super) fn result(walk: &Walk<'_>, kept: Option<&Path>) -> Option<CaseResult> {
    // The answers are there in any case; a file that cannot be read once more only lacks its times, and that is said.
    let case = kept.and_then(|path| {
        journal::sound_file(path)
            .and_then(|sound| sound.damage.map_or(Ok(sound.case), Err))
            .map_err(|error| {
                super::printing::remark(&format!("the result lacks who, when and where: {error}"))
            })
            .ok()
    });
    match case {
        Some(case) => CaseResult::of_case(walk, &case, TimeZone::system()),
        None => CaseResult::new(walk),
    }
}

/// The result as JSON, cut to the causes that count unless all are asked for.
pub(super) fn json(result: CaseResult, all_causes: bool) -> Result<String, Problem> {
    let result = if all_causes { result } else { result.shortened() };
    printing::as_json(&result)
}

/// The layout of text for the standard output.
pub(super) fn layout(shared: &Shared) -> layout::Layout {
    layout::Layout {
        width: width(),
        color: shared.colors(std::io::stdout().is_terminal()),
    }
}

/// Columns of the standard output.
pub(super) fn width() -> usize {
    // Lines longer than this are hard to read whatever the screen.
    const WIDEST: u16 = 100;
    let size = console::Term::stdout().size_checked();
    usize::from(size.map_or(80, |(_, columns)| columns.clamp(40, WIDEST)))
}
