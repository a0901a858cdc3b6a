//! `lineside practice`: an exercise with a hidden fault, the list of them, and how it went.

mod args;
mod kept;
mod list;
mod record;
mod replayed;

use std::io::{self, BufReader, IsTerminal};

use args::{What, begin};
use console::Term;
use jiff::Timestamp;

pub(super) use args::PracticeArgs;

use crate::files;
use crate::knowledge::model::Knowledge;
use crate::practice::{Chosen, Debrief, Entry, Replay, catalog};
use crate::terminal::{Apprentice, Input, Look, Screen, Signals};
use crate::walk::RespondentError;

use super::places::quoted;
use super::problem::Done;
use super::{Problem, interview};

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
    let knowledge = args.shared.knowledge.load()?;
    match &args.answers {
        Some(file) => replayed::run(args, knowledge, file),
        None => at_the_keyboard(args, knowledge),
    }
}

fn at_the_keyboard(args: &PracticeArgs, knowledge: &Knowledge) -> Result<Done, Problem> {
    let file = args.record_file()?;
    let signals = if args.plain.is_wanted() {
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
                Ok(None) => args.sampled(knowledge)?,
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
        Chosen::Sampled(..) => None,
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
        let columns = Term::stderr().size_checked().map(|(_, columns)| columns);
        Apprentice::new(Screen::stream(Box::new(io::stderr()), look, columns), lines)
    }
}

fn no_screen(error: io::Error) -> Problem {
    Problem::data(format!("cannot use the terminal: {error}"))
}
