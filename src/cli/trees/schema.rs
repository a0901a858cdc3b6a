//! `trees schema`: the form of each kind of file, for editors.

use std::io::Write;

use clap::Args;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::typed;
use crate::cli::printing::as_json;
use crate::knowledge::schema::{Section, schema};
use crate::quantity::Word;
use crate::standards::registry;

/// Arguments of `trees schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which kind of file
    #[arg(value_parser = typed(Section::ALL, Section::folder))]
    pub kind: Section,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
}

/// Runs the command.
pub(super) fn run(args: &SchemaArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let schema = schema(args.kind, knowledge, registry::all());
    write!(out, "{}", as_json(&schema)?)?;
    Ok(())
}
