//! A case with a person at the keyboard.

use std::io::{self, BufReader, IsTerminal};
use std::path::{Path, PathBuf};

use console::Term;
use etcetera::BaseStrategy;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::journal::{Case, Journal};
use crate::knowledge::model::Knowledge;
use crate::terminal::{Input, Look, Person, Screen, Signals};
use crate::walk::{self, DriveError, End, Event, Walk};

use super::beforehand::Beforehand;
use super::diagnose::{DiagnoseArgs, show};
use super::keeping::{Keeping, Told, problem};
use super::{Done, Problem};

/// Asks a person until the case ends, stops or breaks off.
pub(super) fn run(args: &DiagnoseArgs, knowledge: &Knowledge) -> Result<Done, Problem> {
    let path = match args.case() {
        Some(path) => path.to_owned(),
        None => new_path(&match args.cases() {
            Some(folder) => folder.to_owned(),
            None => cases_folder()?,
        }),
    };
    let mut walk = args.walk(knowledge)?;
    let (journal, told) = take_up(&path, &mut walk)?;
    let keeping = Keeping::new(journal);
    let signals = if args.plain() { None } else { listen()? };
    let mut person = person(args, signals.clone());
    for line in told {
        person.say(&line).map_err(no_screen)?;
    }
    let mut respondent = Told {
        person: &mut person,
        keeping: &keeping,
    };
    let mut told = Beforehand::new(&mut respondent, args.edition());
    let end = walk::drive(&mut walk, &mut told, &mut |event: &Event| keeping.append(event));
    match end {
        Ok(End::Stopped) => {
            person.say(&keeping.kept()?).map_err(no_screen)?;
            Ok(Done::Well)
        }
        Ok(End::Finished | End::Halted) => {
            let kept = keeping.kept()?;
            let done = show(args, &walk, Some(&keeping.done()))?;
            person.say(&kept).map_err(no_screen)?;
            Ok(done)
        }
        Err(_) if let Some(signal) = signals.as_ref().and_then(Signals::ending) => {
            Err(Problem::signal(signal).hint(keeping.kept()?))
        }
        Err(DriveError::Respondent(error)) => Err(Problem::data(error.to_string()).hint(keeping.kept()?)),
        Err(DriveError::Keep(error)) => Err(problem(&error)),
    }
}

/// Opens the case and walks it to where it stood, or starts a new one. Also gives back what the person must know.
pub(super) fn take_up(path: &Path, walk: &mut Walk<'_>) -> Result<(Journal, Vec<String>), Problem> {
    // A link that leads nowhere is there, too; opening says what it is.
    if std::fs::symlink_metadata(path).is_err() {
        let id = format!("{:032x}", fastrand::u128(..));
        let journal = Journal::create(path, &walk.knowledge().fingerprint, &id, Timestamp::now())
            .map_err(|error| problem(&error))?;
        return Ok((journal, vec![format!("New case, kept in {}", path.display())]));
    }
    let (journal, case) = Journal::open(path).map_err(|error| problem(&error))?;
    let mut told = vec![format!("Going on with the case of {}", path.display())];
    told.extend(replay(&case, walk));
    Ok((journal, told))
}

fn replay(case: &Case, walk: &mut Walk<'_>) -> Vec<String> {
    let mut told = Vec::new();
    if case.torn > 0 {
        told.push(format!(
            "The last line was cut off in the middle ({} bytes) and is dropped; that answer is asked again.",
            case.torn
        ));
    }
    if case.header.knowledge != walk.knowledge().fingerprint {
        told.push(
            "The knowledge has changed since this case was opened; everything is worked out anew.".to_owned(),
        );
    }
    let unknown = case.replay(walk);
    told.extend(
        unknown
            .iter()
            .map(|unknown| format!("An earlier answer is left out: {unknown}.")),
    );
    told
}

/// Listens to signals where keys are read. Elsewhere a signal does no harm to the terminal, and ends the program by
/// itself: every answer is kept already.
fn listen() -> Result<Option<Signals>, Problem> {
    if !(io::stderr().is_terminal() && io::stdin().is_terminal()) {
        return Ok(None);
    }
    Signals::listen()
        .map(Some)
        .map_err(|error| Problem::data(format!("cannot listen for signals: {error}")))
}

fn person(args: &DiagnoseArgs, signals: Option<Signals>) -> Person {
    let talks_to_terminal = io::stderr().is_terminal();
    let look = Look {
        color: args.shared().colors(talks_to_terminal),
    };
    if let Some(signals) = signals {
        Person::new(Screen::terminal(Term::stderr(), look), Input::Keys(signals))
    } else {
        let lines = Input::Lines(Box::new(BufReader::new(io::stdin())));
        Person::new(Screen::stream(Box::new(io::stderr()), look), lines)
    }
}

/// Where cases are kept by the conventions of the platform.
fn cases_folder() -> Result<PathBuf, Problem> {
    let strategy = etcetera::choose_base_strategy().map_err(|error| {
        Problem::data(format!("cannot find the home folder: {error}"))
            .hint("say where to keep the case with `--case FILE`")
    })?;
    let own = strategy.data_dir().join("lineside");
    let cases = own.join("cases");
    // What is kept there is private, and a link could lead it to a place that is not.
    for folder in [&own, &cases] {
        if folder.is_symlink() {
            return Err(
                Problem::data(format!("`{}` is a link and is not followed", folder.display()))
                    .hint("say where to keep the case with `--case FILE`"),
            );
        }
    }
    Ok(cases)
}

/// A file name that is not taken, made of the local date and time.
fn new_path(folder: &Path) -> PathBuf {
    let time = Timestamp::now()
        .to_zoned_datetime(TimeZone::system())
        .strftime("%Y-%m-%d-%H%M%S")
        .to_string();
    let plain = folder.join(format!("{time}.jsonl"));
    if !plain.exists() {
        return plain;
    }
    (2..)
        .map(|number| folder.join(format!("{time}-{number}.jsonl")))
        .find(|path| !path.exists())
        .unwrap_or(plain)
}

fn no_screen(error: io::Error) -> Problem {
    Problem::data(format!("cannot use the terminal: {error}"))
}
