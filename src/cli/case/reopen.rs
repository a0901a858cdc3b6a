//! `case reopen`: the trouble came back. The closed case stays as it is; a new one leads back to it.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::case_file::{CaseFile, Whereabouts, secured};
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::cli::{Problem, places};
use crate::journal;
use crate::journal::life::{Life, Stage};
use crate::walk::{Event, Walk};

use super::{dangers, earlier, named, words};

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct ReopenArgs {
    /// The closed case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// Keep the callback in this file; without, beside the case before
    #[arg(short = 'o', long, value_name = "FILE")]
    out: Option<PathBuf>,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
pub(super) fn run(args: &ReopenArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let path = named::file(&args.name)?;
    let before = journal::read_file(&path)?;
    let life = Life::of(&before);
    if life.stage() != Stage::Closed {
        return Err(
            Problem::data(format!("the case `{}` is not closed", path.display()))
                .hint(format!("go on with it: `lineside --case {}`", path.display())),
        );
    }
    let new = args
        .out
        .clone()
        .unwrap_or_else(|| places::new_path(path.parent().unwrap_or(Path::new(""))));
    if std::fs::symlink_metadata(&new).is_ok() {
        return Err(Problem::data(format!("`{}` exists already", new.display()))
            .hint("give a name that does not exist yet"));
    }
    // The place is the same unless it is said otherwise.
    let who = Whereabouts {
        technician: args.who.technician.clone(),
        place: args.who.place.clone().or_else(|| life.place.clone()),
        unit: args.who.unit.clone().or_else(|| life.unit.clone()),
    };
    let mut before_walk = Walk::new(knowledge);
    before.replay(&mut before_walk);
    let closing = life.closing.as_ref();
    let stood = earlier::dangers(&before_walk, closing.map(|closing| &closing.what));
    let mut walk = Walk::new(knowledge);
    let mut file = CaseFile::take_up(&new, &who, &mut walk)?.file;
    file.begin_with(earlier::left_standing(
        &before_walk,
        closing.map(|closing| &closing.what),
    ));
    let callback = Event::Callback {
        case: before.header.identity(),
        head: before.head().map(|head| head.to_string()),
    };
    // Whoever opens the callback reads it there, too.
    for text in &stood {
        file.append(&Event::Note { text: text.clone() })?;
    }
    file.append(&callback)?;
    secured(&mut file)?;
    for text in &stood {
        print(&dangers::wrapped(text))?;
    }
    print(&dangers::wrapped(&format!(
        "A callback on the case closed {} as {}, {}.",
        closing.map_or(String::new(), |closing| words::clock(closing.at)),
        words::outcome(knowledge, &life).unwrap_or_default(),
        words::stage(&life).trim_start_matches("closed, "),
    )))?;
    print(&format!(
        "Go on with: lineside --case {}\n",
        file.journal().path().display()
    ))?;
    Ok(Done::Well)
}
