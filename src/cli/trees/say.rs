//! Text of a command below `trees`, for a person at a screen of 80 columns.

use std::io::Write;

use crate::cli::Problem;
use crate::report::layout;

/// Columns of the screen.
const WIDTH: usize = 80;

/// A text after its beginning, its further lines under its first.
pub(super) fn say(out: &mut dyn Write, begin: &str, text: &str) -> Result<(), Problem> {
    indented(out, begin, &" ".repeat(begin.len()), text)
}

/// A text whose further lines begin otherwise.
pub(super) fn indented(out: &mut dyn Write, first: &str, further: &str, text: &str) -> Result<(), Problem> {
    let options = layout::plain_wrap(WIDTH)
        .initial_indent(first)
        .subsequent_indent(further);
    // A figure is not parted from its unit.
    for line in textwrap::wrap(&text.replace(" %", "\u{a0}%"), options) {
        writeln!(out, "{}", line.replace('\u{a0}', " ").trim_end())?;
    }
    Ok(())
}
