//! One line asked of whoever ends a case.

use std::io::{self, BufRead, Write as _};

use crate::cli::Problem;
use crate::report::visible::visible;

/// Asks one line; nothing when it is empty or the input has ended.
pub(super) fn ask(question: &str) -> Result<Option<String>, Problem> {
    let failed = |error| Problem::data(format!("cannot ask: {error}"));
    let mut screen = io::stderr();
    write!(screen, "{}\n> ", visible(question))
        .and_then(|()| screen.flush())
        .map_err(failed)?;
    let mut line = String::new();
    io::stdin().lock().read_line(&mut line).map_err(failed)?;
    let line = line.trim();
    Ok((!line.is_empty()).then(|| line.to_owned()))
}
