//! `trees schema`: the form of each kind of file, for editors.

use std::io::Write;

use clap::{Args, ValueEnum};

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::printing::as_json;
use crate::knowledge::schema::{FileKind, schema};
use crate::standards::registry;

/// Arguments of `trees schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which kind of file
    #[arg(value_enum)]
    pub kind: Kind,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
}

/// Kind of file, as typed: the name of its folder, or `trees`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Kind {
    /// Kinds of equipment
    Equipment,
    /// What can be fitted to equipment besides
    Accessories,
    /// Values of an installation
    Facts,
    /// What a repair must come to, in figures
    Requirements,
    /// What keeps tests from being made until it is cleared
    Holds,
    /// What can be found out about a fault
    Effects,
    /// What is common to kinds of causes
    Families,
    /// What can be wrong
    Causes,
    /// Looks, readings and calculations
    Tests,
    /// The routing for a complaint
    Trees,
}

/// Runs the command.
pub(super) fn run(args: &SchemaArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let kind = match args.kind {
        Kind::Equipment => FileKind::Equipment,
        Kind::Accessories => FileKind::Accessories,
        Kind::Requirements => FileKind::Requirements,
        Kind::Holds => FileKind::Holds,
        Kind::Facts => FileKind::Facts,
        Kind::Effects => FileKind::Effects,
        Kind::Families => FileKind::Families,
        Kind::Causes => FileKind::Causes,
        Kind::Tests => FileKind::Tests,
        Kind::Trees => FileKind::Trees,
    };
    let schema = schema(kind, &knowledge, registry::all());
    write!(out, "{}", as_json(&schema)?)?;
    Ok(())
}
