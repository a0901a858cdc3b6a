//! Parses the command line, runs the command, and turns its end into an exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    lineside::cli::main()
}
