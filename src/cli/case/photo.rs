//! `case photo`: photographs that belong to a case. The pictures stay where they are; the case keeps place and hash.

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::Problem;
use crate::cli::case_file::{CaseFile, Whereabouts, secured};
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::files::{self, Limit};
use crate::knowledge::render::count;
use crate::walk::{Event, Walk};

use super::named;

/// The largest photograph read. A phone's picture has some 3 to 15 MB; common practice, no source.
const LARGEST: Limit = Limit {
    what: "a photograph",
    bytes: 64 * 1024 * 1024,
};

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct PhotoArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// The photographs
    #[arg(value_name = "PICTURE", required = true)]
    pictures: Vec<PathBuf>,
    /// What they show: nameplate, burnt lug
    #[arg(long, value_name = "TEXT")]
    shows: Option<String>,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
pub(super) fn run(args: &PhotoArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let path = named::file(&args.name)?;
    // All are read before one is kept.
    let mut photographs = Vec::new();
    for picture in &args.pictures {
        let bytes = files::read(picture, LARGEST)?;
        photographs.push(Event::Photograph {
            path: seen_from(&path, picture)?,
            sha256: files::sha256(&bytes),
            shows: args.shows.clone(),
        });
    }
    let mut walk = Walk::new(knowledge);
    let mut file = CaseFile::take_up(&path, &args.who, &mut walk)?.file;
    for event in &photographs {
        file.append(event)?;
    }
    secured(&mut file)?;
    print(&format!(
        "Kept: {} attached. The pictures stay where they are; leave them there.\n",
        count(photographs.len(), "photograph")
    ))?;
    Ok(Done::Well)
}

/// The place of a picture as seen from the folder of the case when it is in it, so that both can move together.
fn seen_from(case: &Path, picture: &Path) -> Result<String, Problem> {
    let failed = |path: &Path| {
        let shown = path.display().to_string();
        move |error| Problem::data(format!("cannot find `{shown}`: {error}"))
    };
    let real = fs::canonicalize(picture).map_err(failed(picture))?;
    let folder = files::folder_of(case);
    let folder = fs::canonicalize(folder).map_err(failed(folder))?;
    let path = real.strip_prefix(&folder).unwrap_or(&real);
    path.to_str().map(str::to_owned).ok_or_else(|| {
        Problem::data(format!("the name of `{}` is no text", path.display())).hint("give it another name")
    })
}
