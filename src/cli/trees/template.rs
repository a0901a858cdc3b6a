//! `trees template`: a commented beginning for what an author adds.

use std::io::Write;

use clap::Args;

use crate::cli::Problem;
use crate::cli::options::word;
use crate::knowledge::template::{TemplateKind, template};

/// Arguments of `trees template`.
#[derive(Debug, Args)]
pub struct TemplateArgs {
    /// What is to be added
    #[arg(value_parser = word::<TemplateKind>())]
    pub kind: TemplateKind,
}

/// Runs the command.
pub(super) fn run(args: &TemplateArgs, out: &mut dyn Write) -> Result<(), Problem> {
    out.write_all(template(args.kind).as_bytes())?;
    Ok(())
}
