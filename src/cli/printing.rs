//! Writing the result, and remarks beside it.

use std::io::Write;
use std::sync::atomic::{AtomicBool, Ordering};

use serde::Serialize;

use crate::report::visible::{visible, visible_beside_marks};

use super::problem::Problem;

/// There was no standard output when the program started.
pub(super) static OUTPUT_IS_CLOSED: AtomicBool = AtomicBool::new(false);

/// Notes that the process was started without a standard output.
pub fn output_is_closed() {
    OUTPUT_IS_CLOSED.store(true, Ordering::Relaxed);
}

/// Says something beside the result, on the error stream. Where that is closed, the result stands by itself.
pub(super) fn remark(text: &str) {
    let _ = writeln!(std::io::stderr(), "note: {}", visible(text));
}

/// Makes sure that there is a standard output for the result.
pub(super) fn can_print() -> Result<(), Problem> {
    if OUTPUT_IS_CLOSED.load(Ordering::Relaxed) {
        return Err(
            Problem::data("cannot write the result: the standard output is closed")
                .hint("start it without `>&-`, or send the output to a file with `> FILE`"),
        );
    }
    Ok(())
}

/// Data as JSON, with the end of its last line.
pub(super) fn as_json(data: &impl Serialize) -> Result<String, Problem> {
    serde_json::to_string_pretty(data)
        .map(|text| text + "\n")
        .map_err(|error| Problem::data(format!("cannot write the result as JSON: {error}")))
}

/// Writes data to the standard output.
///
/// A reader that closed its end has what it wanted, so that is no problem.
pub(super) fn print(text: &str) -> Result<(), Problem> {
    write_out(&visible(text))
}

/// Writes data that carries marks of our own, and in which everything else went through [`visible`].
pub(super) fn print_marked(text: &str) -> Result<(), Problem> {
    write_out(&visible_beside_marks(text))
}

fn write_out(text: &str) -> Result<(), Problem> {
    if !text.is_empty() {
        can_print()?;
    }
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Problem::data(format!("cannot write the result: {error}")))
        }
        _ => Ok(()),
    }
}
