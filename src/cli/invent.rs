//! `lineside invent`: invented cases, to try things with.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use rayon::prelude::*;

use crate::files;
use crate::invented::{self, InventedCase};
use crate::knowledge::model::Knowledge;

use super::Problem;
use super::knowledge::Folder;
use super::printing::print;
use super::problem::Done;
use super::progress::Progress;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside invent 500 --out invented/           500 cases nobody ever had
  lineside review invented/                     what a review of them looks like
  lineside invent 500 --out again/ --seed 2     others; the same seed gives the same files

Every file says in its first line that it is invented, and no place or person in it exists.";

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct InventArgs {
    /// How many cases
    #[arg(value_name = "N", value_parser = clap::value_parser!(u32).range(1..=10_000_000))]
    cases: u32,
    /// Write them into this folder, a file for each
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Walk only this many; the others are these again with other places, people and dates
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    walks: Option<u32>,
    /// Seed of the drawing
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    #[command(flatten)]
    knowledge: Folder,
}

/// Runs the command.
///
/// # Errors
/// When a file of that name is there already, or cannot be written.
pub(super) fn run(args: &InventArgs) -> Result<Done, Problem> {
    let knowledge = args.knowledge.load()?;
    let failed = |error: io::Error| {
        Problem::data(format!(
            "cannot make the folder `{}`: {error}",
            args.out.display()
        ))
        .hint("`--out` takes a folder that can be written")
    };
    files::create_private_folder(&args.out).map_err(failed)?;
    let plans = invented::plan(args.seed, args.cases as usize);
    let progress = Progress::new("cases invented", args.cases as usize);
    let wanted = args.walks.map_or(usize::MAX, |walks| walks as usize);
    let (walked, repeated) = plans.split_at(plans.partition_point(|plan| plan.first <= wanted));
    let put = |cases: &[InventedCase]| -> Result<(), Problem> {
        let files = invented::files(cases)
            .map_err(|error| Problem::data(format!("cannot invent a case: {error}")))?;
        files
            .iter()
            .try_for_each(|(number, bytes)| write(&args.out, *number, bytes))?;
        progress.more(cases.len());
        Ok(())
    };
    let models: Result<Vec<Vec<InventedCase>>, Problem> = walked
        .par_iter()
        .map(|plan| {
            let cases = invented::unit(knowledge, args.seed, *plan);
            put(&cases)?;
            // Kept only where they are walked again.
            Ok(if repeated.is_empty() { Vec::new() } else { cases })
        })
        .collect();
    let written = models.and_then(|models| {
        repeated.par_iter().try_for_each(|plan| {
            let alike: Vec<&Vec<InventedCase>> =
                models.iter().filter(|cases| cases.len() == plan.cases).collect();
            match alike.get(plan.number % alike.len().max(1)) {
                Some(cases) => put(&invented::again(cases, args.seed, *plan)),
                None => put(&invented::unit(knowledge, args.seed, *plan)),
            }
        })
    });
    progress.finish();
    written?;
    print(&said(args, knowledge))?;
    Ok(Done::Well)
}

fn said(args: &InventArgs, knowledge: &Knowledge) -> String {
    format!(
        "{} invented cases in {} (seed {}, knowledge {})\nlook at them together with: lineside review {}\n",
        args.cases,
        args.out.display(),
        args.seed,
        knowledge.fingerprint,
        args.out.display()
    )
}

/// Writes a case under a name that says what it is. It is not synced: it can be invented again.
fn write(folder: &Path, number: usize, bytes: &[u8]) -> Result<(), Problem> {
    let path = folder.join(format!("invented-{number:07}.jsonl"));
    let written = files::create_private(&path).and_then(|mut file| {
        file.write_all(bytes).inspect_err(|_| {
            // Half a case under a name that looks whole would mislead; if it cannot be removed, so be it.
            let _ = fs::remove_file(&path);
        })
    });
    written.map_err(|error| {
        let hint = if error.kind() == io::ErrorKind::AlreadyExists {
            "give `--out` a new folder"
        } else {
            "see whether there is room, and whether the folder may be written"
        };
        Problem::data(format!("cannot write `{}`: {error}", path.display())).hint(hint)
    })
}
