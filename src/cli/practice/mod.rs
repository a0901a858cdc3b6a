//! `lineside practice`: an exercise with a hidden fault, the list of them, and how it went.

mod kept;
mod list;
mod record;
mod replayed;

use std::io::{self, BufReader, IsTerminal};
use std::path::PathBuf;

use clap::{Args, Subcommand};
use console::Term;
use jiff::Timestamp;

use crate::files;
use crate::knowledge::model::Knowledge;
use crate::practice::{Chosen, Debrief, Entry, Replay, Session, catalog, replay};
use crate::terminal::{Apprentice, Input, Look, Screen, Signals};
use crate::walk::RespondentError;

use super::keeping::quoted;
use super::{Done, Problem, Shared, interview, knowledge, settings};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside practice                    choose an exercise; new to it: the first
  lineside practice first-walk         one of the list, by its id or number
  lineside practice --complaint breaker-opens --level 2    draw a hidden fault
  lineside practice --seed 7           the same fault again
  lineside practice list               exercises by topic and level
  lineside practice record             what was practiced and how it went
  lineside practice --keep run.toml    write the run down as well
  lineside practice --answers run.toml play it again

Nothing here is a real case, and no run is written where cases are kept.";

/// What was typed.
#[derive(Args, Clone, Debug)]
#[command(args_conflicts_with_subcommands = true)]
pub(crate) struct PracticeArgs {
    #[command(subcommand)]
    what: Option<What>,
    /// An exercise of the list, by its id or number
    #[arg(value_name = "EXERCISE", conflicts_with_all = ["complaint", "equipment", "level", "seed"])]
    exercise: Option<String>,
    /// Draw a fault behind this complaint
    #[arg(long, value_name = "ID")]
    complaint: Option<String>,
    /// Draw a fault of this equipment
    #[arg(long, value_name = "ID")]
    equipment: Option<String>,
    /// How hard: 1 asked for or seen from outside, 2 found locked out, 3 with power on or only now and then
    #[arg(long, value_name = "1-3", value_parser = clap::value_parser!(u8).range(1..=3))]
    level: Option<u8>,
    /// Seed of the drawing; the same seed gives the same fault
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
    /// Play a run again from this file, and print it
    #[arg(
        long,
        value_name = "FILE.toml",
        conflicts_with_all = ["exercise", "complaint", "equipment", "level", "seed"]
    )]
    answers: Option<PathBuf>,
    /// Write the run to this file, to be played again with `--answers`
    #[arg(long, value_name = "FILE.toml", conflicts_with = "answers")]
    keep: Option<PathBuf>,
    /// Write how it went to this file instead of the usual one
    #[arg(long, value_name = "FILE.jsonl")]
    record: Option<PathBuf>,
    /// Write nothing of how it went
    #[arg(long, conflicts_with = "record")]
    no_record: bool,
    /// Who practices
    #[arg(long, value_name = "TEXT")]
    technician: Option<String>,
    /// Plain lines in place of lists to move in
    #[arg(
        long,
        value_name = "YES",
        num_args = 0..=1,
        require_equals = true,
        default_missing_value = "true",
        hide_possible_values = true
    )]
    plain: Option<bool>,
    #[command(flatten)]
    shared: Shared,
}

#[derive(Clone, Debug, Subcommand)]
enum What {
    /// List the exercises by topic and level, each with what it teaches
    List(list::ListArgs),
    /// Show what was practiced and how it went
    #[command(after_help = record::EXAMPLES)]
    Record(record::RecordArgs),
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the exercise or the file cannot be used, or the exercise broke off.
pub(super) fn run(args: &PracticeArgs) -> Result<Done, Problem> {
    match &args.what {
        Some(What::List(list)) => return list::run(list),
        Some(What::Record(record)) => return record::run(record),
        None => {}
    }
    let knowledge = knowledge::load(args.shared.trees.as_deref())?;
    match &args.answers {
        Some(file) => replayed::run(args, &knowledge, file),
        None => at_the_keyboard(args, &knowledge),
    }
}

impl PracticeArgs {
    fn by(&self) -> Option<&str> {
        self.technician
            .as_deref()
            .or(settings::held().technician.as_deref())
    }

    /// The exercise asked for; nothing when the person is to choose.
    fn chosen(&self, knowledge: &Knowledge) -> Result<Option<Chosen>, Problem> {
        if let Some(name) = &self.exercise {
            let listed = catalog::find(knowledge, name).map_err(|error| {
                Problem::usage(error).hint("`lineside practice list` lists the exercises")
            })?;
            return Ok(Some(Chosen::Listed(Box::new(listed))));
        }
        let drawn = self.complaint.is_some()
            || self.equipment.is_some()
            || self.level.is_some()
            || self.seed.is_some();
        if drawn {
            self.drawn(knowledge).map(Some)
        } else {
            Ok(None)
        }
    }

    fn drawn(&self, knowledge: &Knowledge) -> Result<Chosen, Problem> {
        let (complaint, equipment) = (self.complaint.as_deref(), self.equipment.as_deref());
        let wish = replay::wish(knowledge, complaint, equipment, self.level).map_err(|error| {
            Problem::usage(error)
                .hint("`lineside trees list complaints` and `lineside trees list equipment` list the ids")
        })?;
        // Short enough to be told over the phone.
        Ok(Chosen::Drawn(
            wish,
            self.seed.unwrap_or_else(|| fastrand::u64(1..1_000_000)),
        ))
    }

    /// The file of runs; nothing when nothing is to be written.
    fn record_file(&self) -> Result<Option<PathBuf>, Problem> {
        match (&self.record, self.no_record) {
            (Some(file), _) => Ok(Some(file.clone())),
            (None, true) => Ok(None),
            (None, false) => kept::usual_file().map(Some),
        }
    }
}

fn begin<'k>(knowledge: &'k Knowledge, chosen: &Chosen) -> Result<Session<'k>, Problem> {
    let exercise = chosen.exercise(knowledge).map_err(|error| {
        Problem::data(error).hint("leave out `--level`, `--equipment` or `--complaint`, or take another")
    })?;
    Session::new(knowledge, &exercise)
        .ok_or_else(|| Problem::data("this equipment cannot have this fault with this knowledge"))
}

fn at_the_keyboard(args: &PracticeArgs, knowledge: &Knowledge) -> Result<Done, Problem> {
    let file = args.record_file()?;
    let signals = if args.plain.or(settings::held().plain_screen).unwrap_or_default() {
        None
    } else {
        interview::listen()?
    };
    let mut apprentice = apprentice(args, signals.clone());
    let broke_off = |error: RespondentError| match signals.as_ref().and_then(Signals::ending) {
        Some(signal) => Problem::signal(signal).hint("nothing of the exercise was written"),
        None => Problem::data(error.to_string()).hint("nothing of the exercise was written"),
    };
    let chosen = match args.chosen(knowledge)? {
        Some(chosen) => chosen,
        None => {
            let listed = catalog::all(knowledge);
            let done = kept::walked(file.as_deref(), &listed);
            match apprentice.choose(&listed, &done) {
                Ok(Some(place)) => Chosen::Listed(Box::new(listed[place].clone())),
                Ok(None) => args.drawn(knowledge)?,
                Err(RespondentError::Interrupted) if signals.as_ref().and_then(Signals::ending).is_none() => {
                    return Ok(Done::Well);
                }
                Err(error) => return Err(broke_off(error)),
            }
        }
    };
    let again = chosen.again(knowledge);
    let listed = match &chosen {
        Chosen::Listed(listed) => Some(listed.as_ref()),
        Chosen::Drawn(..) => None,
    };
    let mut session = begin(knowledge, &chosen)?;
    let over = apprentice
        .walk(&mut session, listed, &again)
        .map_err(&broke_off)?;
    if let Some(file) = &args.keep {
        let text = Replay {
            chosen: chosen.clone(),
            choices: session.choices().to_vec(),
        }
        .text(knowledge);
        files::write_whole(file, &text)?;
    }
    let debrief = Debrief::of(&session).filter(|_| over);
    let Some(debrief) = debrief else {
        let said = format!("not ended, so nothing is recorded; the same again: lineside practice {again}");
        apprentice.say(&said).map_err(no_screen)?;
        return Ok(Done::Well);
    };
    // Before it is read, so that a closed window loses nothing.
    let kept = file
        .map(|file| {
            let id = listed.map(|listed| listed.id.as_str());
            let entry = Entry::new(
                knowledge,
                session.exercise(),
                id,
                &debrief,
                args.by(),
                Timestamp::now(),
            );
            kept::append(&file, &entry).map(|()| file)
        })
        .transpose()?;
    apprentice
        .debrief(&session, &debrief, &again)
        .map_err(&broke_off)?;
    if let Some(file) = kept {
        let said = format!("how it went is kept in {}, beside no real case", quoted(&file));
        apprentice.say(&said).map_err(no_screen)?;
    }
    Ok(Done::Well)
}

fn apprentice(args: &PracticeArgs, signals: Option<Signals>) -> Apprentice {
    let look = Look {
        color: args.shared.colors(io::stderr().is_terminal()),
    };
    if let Some(signals) = signals {
        Apprentice::new(Screen::terminal(Term::stderr(), look), Input::Keys(signals))
    } else {
        let lines = Input::Lines(Box::new(BufReader::new(io::stdin())));
        Apprentice::new(Screen::stream(Box::new(io::stderr()), look), lines)
    }
}

fn no_screen(error: io::Error) -> Problem {
    Problem::data(format!("cannot use the terminal: {error}"))
}
