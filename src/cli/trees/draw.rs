//! `trees draw`: a tree as a picture, or the whole knowledge as one page.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::drawing::{Figure, dot, page, svg};
use crate::files::write_whole;
use crate::knowledge::load;
use crate::knowledge::model::{Knowledge, TreeIndex};
use crate::knowledge::nearest::did_you_mean;
use crate::standards::calculation::Calculation;

use super::error::TreesError;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside trees draw safety -o safety.svg       one tree as a picture
  lineside trees draw safety --format dot        the same for a layout program
  lineside trees draw --all -o lineside.html     everything, to search on a phone";

/// Arguments of `trees draw`.
#[derive(Debug, Args)]
pub struct DrawArgs {
    /// Tree to draw, by its id: a complaint or a shared tree
    #[arg(value_name = "TREE", required_unless_present = "all", conflicts_with = "all")]
    pub tree: Option<String>,
    /// Write every tree, cause and test as one page of HTML, to be read anywhere without a network
    #[arg(long)]
    pub all: bool,
    /// Form of a single tree
    #[arg(long, value_enum, default_value_t, conflicts_with = "all")]
    pub format: Form,
    /// File to write instead of the standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Folder to read in place of what is built in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
}

/// Form of a drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// A picture, for people
    #[default]
    Svg,
    /// A graph in the DOT language, for programs
    Dot,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge cannot be read, there is no such tree, its routes go round, or the file cannot be written.
pub(super) fn run(
    args: &DrawArgs,
    catalog: &'static [Calculation],
    out: &mut dyn Write,
) -> Result<(), TreesError> {
    let knowledge = load(args.trees.as_deref(), catalog)?;
    let text = match &args.tree {
        None => page::write(&knowledge)?,
        Some(id) => {
            let figure = Figure::new(&knowledge, find(&knowledge, id)?)?;
            match args.format {
                Form::Svg => svg::write(&knowledge, &figure, svg::For::File),
                Form::Dot => dot::write(&figure),
            }
        }
    };
    match &args.output {
        Some(path) => write_whole(path, &text)?,
        None => out.write_all(text.as_bytes())?,
    }
    Ok(())
}

fn find(knowledge: &Knowledge, id: &str) -> Result<TreeIndex, TreesError> {
    knowledge
        .trees
        .iter()
        .position(|tree| tree.id == id)
        .map(TreeIndex)
        .ok_or_else(|| {
            let known = knowledge.trees.iter().map(|tree| tree.id.as_str());
            let hint = did_you_mean(id, known, "see the files in the folder `trees`");
            TreesError::NoSuch(format!("no tree `{id}` ({hint})"))
        })
}
