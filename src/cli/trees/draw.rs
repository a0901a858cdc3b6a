//! `trees draw`: a tree as a picture, or the whole knowledge as one page.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use crate::cli::Problem;
use crate::cli::knowledge::Folder;
use crate::cli::options::Format;
use crate::drawing::{Figure, dot, page, svg};
use crate::files::write_whole;
use crate::knowledge::model::{Knowledge, TreeIndex};
use crate::knowledge::nearest::did_you_mean;

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
    #[arg(
        long,
        value_name = "FORM",
        default_value = "svg",
        conflicts_with = "all",
        value_parser = Format::among(&[Format::Svg, Format::Dot])
    )]
    pub format: Format,
    /// File to write instead of the standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge cannot be read, there is no such tree, its routes go round, or the file cannot be written.
pub(super) fn run(args: &DrawArgs, out: &mut dyn Write) -> Result<(), Problem> {
    let knowledge = args.knowledge.load()?;
    let text = match &args.tree {
        None => page::write(knowledge)?,
        Some(id) => {
            let figure = Figure::new(knowledge, find(knowledge, id)?)?;
            match args.format {
                Format::Dot => dot::write(&figure),
                _ => svg::write(knowledge, &figure, svg::For::File),
            }
        }
    };
    match &args.output {
        Some(path) => write_whole(path, &text)?,
        None => out.write_all(text.as_bytes())?,
    }
    Ok(())
}

fn find(knowledge: &Knowledge, id: &str) -> Result<TreeIndex, Problem> {
    knowledge
        .trees
        .iter()
        .position(|tree| tree.id == id)
        .map(TreeIndex)
        .ok_or_else(|| {
            let known = knowledge.trees.iter().map(|tree| tree.id.as_str());
            let hint = did_you_mean(id, known, "see the files in the folder `trees`");
            Problem::data(format!("no tree `{id}` ({hint})"))
        })
}
