//! Commands: what was typed, and one small file per command.

pub mod trees;

use std::process::ExitCode;

/// Runs the command line of this process.
#[must_use]
pub fn main() -> ExitCode {
    ExitCode::from(2)
}
