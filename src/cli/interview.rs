//! A case with a person at the keyboard.

use std::io::{self, BufReader, IsTerminal};
use std::path::{Path, PathBuf};

use console::Term;
use etcetera::BaseStrategy;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::knowledge::model::Knowledge;
use crate::terminal::{Input, Look, Person, Screen, Signals};
use crate::walk::{self, DriveError, End, Event};

use super::beforehand::Beforehand;
use super::case_file::{CaseFile, TakenUp};
use super::diagnose::{DiagnoseArgs, show, show_first};
use super::keeping::{Keeping, Told, problem, quoted};
use super::{Done, Problem, settings};

/// Said below the result of a case that is closed.
const CLOSED: &str = "This case is closed, and nothing was added to it. If the trouble came back:";

/// Asks a person until the case ends, stops or breaks off.
pub(super) fn run(args: &DiagnoseArgs, knowledge: &Knowledge) -> Result<Done, Problem> {
    let path = match args.case() {
        Some(path) => path.to_owned(),
        None => new_path(&match args.cases() {
            Some(folder) => folder.to_owned(),
            None => usual_folder()?,
        }),
    };
    let mut walk = args.walk(knowledge)?;
    let TakenUp {
        file, told, closed, ..
    } = CaseFile::take_up(&path, args.who(), &mut walk)?;
    let keeping = Keeping::new(file);
    let signals = if args.plain() { None } else { listen()? };
    let mut person = person(args, signals.clone());
    for line in told {
        person.say(&line).map_err(no_screen)?;
    }
    if closed {
        let path = keeping.done();
        let done = show(args, &walk, Some(&path))?;
        person
            .say(&format!("{CLOSED} lineside case reopen {}", quoted(&path)))
            .map_err(no_screen)?;
        return Ok(done);
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
            let path = keeping.done();
            let done = show_first(args, &walk, &path)?;
            let whole = format!("all of the result: lineside report --case {}", quoted(&path));
            let close = format!("once it is repaired: lineside case close {}", quoted(&path));
            person
                .say(&format!("{kept}\n{whole}\n{close}"))
                .map_err(no_screen)?;
            Ok(done)
        }
        Err(_) if let Some(signal) = signals.as_ref().and_then(Signals::ending) => {
            Err(Problem::signal(signal).hint(keeping.kept()?))
        }
        Err(DriveError::Respondent(error)) => Err(Problem::data(error.to_string()).hint(keeping.kept()?)),
        Err(DriveError::Keep(error)) => Err(problem(&error)),
    }
}

/// Listens to signals where keys are read. Elsewhere a signal does no harm to the terminal, and ends the program by
/// itself: every answer is kept already.
pub(super) fn listen() -> Result<Option<Signals>, Problem> {
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

/// The folder of cases of the settings, else where the platform keeps such data.
pub(super) fn usual_folder() -> Result<PathBuf, Problem> {
    match &settings::held().cases_folder {
        Some(folder) => Ok(folder.clone()),
        None => platform_folder(),
    }
}

/// Where cases are kept by the conventions of the platform.
fn platform_folder() -> Result<PathBuf, Problem> {
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
pub(super) fn new_path(folder: &Path) -> PathBuf {
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
