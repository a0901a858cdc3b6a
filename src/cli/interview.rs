//! A case with a person at the keyboard.

use std::io::{self, BufReader, IsTerminal};

use console::Term;

use crate::knowledge::model::Knowledge;
use crate::terminal::{Input, Look, Person, Screen, Signals};
use crate::walk::{self, DriveError, End, Event};

use super::Problem;
use super::beforehand::Beforehand;
use super::case::{Earlier, named_or_new};
use super::case_file::{AskedWhere, CaseFile, TakenUp};
use super::diagnose_args::DiagnoseArgs;
use super::keeping::{Keeping, Told};
use super::places::{new_path, quoted, usual_folder};
use super::problem::Done;
use super::result::{show, show_first};

/// Said below the result of a case that is closed.
const CLOSED: &str = "This case is closed, and nothing was added to it. If the trouble came back:";

/// Asks a person until the case ends, stops or breaks off.
pub(super) fn run(args: &DiagnoseArgs, knowledge: &Knowledge) -> Result<Done, Problem> {
    let path = match args.case() {
        Some(name) => named_or_new(name)?,
        None => new_path(&match args.cases() {
            Some(folder) => folder.to_owned(),
            None => usual_folder()?,
        }),
    };
    let mut walk = args.shop.walk(knowledge)?;
    let TakenUp {
        file,
        told,
        closed,
        fresh,
        case,
        ..
    } = CaseFile::take_up(&path, args.who(), &mut walk)?;
    let earlier = case
        .before
        .as_ref()
        .and_then(|before| Earlier::find(knowledge, before, &path));
    let keeping = Keeping::new(file);
    let plain = args.plain() || is_simple();
    let signals = if plain { None } else { listen()? };
    let mut person = person(args, plain, signals.clone());
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
        // Lines from a pipe are answers to the questions of the walk.
        earlier: earlier.filter(|_| walk.steps() == 0 && io::stdin().is_terminal()),
        taken: None,
        telling: false,
        asks: AskedWhere::besides(args.who()).filter(|_| fresh && io::stdin().is_terminal()),
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
        Err(DriveError::Keep(error)) => Err(error.into()),
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

/// Whether the terminal says of itself that it only takes lines.
fn is_simple() -> bool {
    std::env::var_os("TERM").is_some_and(|name| name == "dumb")
}

fn person(args: &DiagnoseArgs, plain: bool, signals: Option<Signals>) -> Person {
    let talks_to_terminal = io::stderr().is_terminal();
    let look = Look {
        color: args.shared().colors(talks_to_terminal && !plain),
    };
    if let Some(signals) = signals {
        Person::new(Screen::terminal(Term::stderr(), look), Input::Keys(signals))
    } else {
        let lines = Input::Lines(Box::new(BufReader::new(io::stdin())));
        let columns = Term::stderr().size_checked().map(|(_, columns)| columns);
        Person::new(Screen::stream(Box::new(io::stderr()), look, columns), lines)
    }
}

fn no_screen(error: io::Error) -> Problem {
    Problem::data(format!("cannot use the terminal: {error}"))
}
