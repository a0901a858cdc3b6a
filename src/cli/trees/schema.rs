//! `trees schema`: the form of each kind of file, for editors.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::knowledge::load;
use crate::knowledge::schema::{FileKind, schema};
use crate::standards::calculation::Calculation;

use super::error::TreesError;

/// Arguments of `trees schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which kind of file
    #[arg(value_enum)]
    pub kind: Kind,
    /// Folder whose ids are offered, in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
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
pub(super) fn run(
    args: &SchemaArgs,
    catalog: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<(), TreesError> {
    let knowledge = load(args.trees.as_deref(), catalog)?;
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
    let schema = schema(kind, &knowledge, catalog);
    writeln!(out, "{}", serde_json::to_string_pretty(&schema)?)?;
    Ok(())
}
