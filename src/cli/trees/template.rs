//! `trees template`: a commented beginning for what an author adds.

use std::io::Write;

use clap::{Args, ValueEnum};

use crate::cli::Problem;
use crate::knowledge::template::{TemplateKind, template};

/// Arguments of `trees template`.
#[derive(Debug, Args)]
pub struct TemplateArgs {
    /// What is to be added
    #[arg(value_enum)]
    pub kind: Kind,
}

/// What is to be added, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Kind {
    /// Something that can be wrong
    Cause,
    /// A test whose outcome a person picks
    Look,
    /// A test whose outcome follows from a number
    Reading,
    /// A test the program works out
    Calculation,
    /// The routing for a complaint
    Tree,
}

/// Runs the command.
pub(super) fn run(args: &TemplateArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let kind = match args.kind {
        Kind::Cause => TemplateKind::Cause,
        Kind::Look => TemplateKind::Look,
        Kind::Reading => TemplateKind::Reading,
        Kind::Calculation => TemplateKind::Calculation,
        Kind::Tree => TemplateKind::Tree,
    };
    out.write_all(template(kind).as_bytes())?;
    Ok(())
}
