//! Dangers that stand by the answers of a case, said wherever a person comes to write its end.

use crate::cli::Problem;
use crate::cli::printing::print;
use crate::cli::result::width;
use crate::knowledge::model::{Hold, State};
use crate::knowledge::search;
use crate::report::layout::set_in;
use crate::walk::{Stood, Walk};

/// Says each danger that stands by the answers.
pub(super) fn print_all(walk: &Walk<'_>) -> Result<(), Problem> {
    let mut dangers = walk.dangers().into_iter();
    dangers.try_for_each(|hold| print(&still_standing(hold)))
}

/// A danger that stands, in lines that the screen holds.
pub(super) fn still_standing(hold: &Hold) -> String {
    wrapped(&format!("STILL STANDING: {}. {}", hold.name, hold.says))
}

/// A sentence in lines that the screen holds, each with its end.
pub(super) fn wrapped(text: &str) -> String {
    set_in(width(), "", text).join("\n") + "\n"
}

/// What is said of a proof while a danger stands that keeps the equipment from running; nothing where none does.
pub(super) fn of_a_run(walk: &Walk<'_>, ran: bool) -> Option<&'static str> {
    let stops = |hold: &&Hold| hold.stops.contains(&State::Running);
    walk.dangers().iter().any(stops).then_some(if ran {
        "It ran while that stands: kept, but it proves nothing before what cleared each danger is said at the closing."
    } else {
        "If that was read with the unit running: it must not run while that stands. It proves nothing before what cleared \
         each danger is said at the closing."
    })
}

/// Reads what was given as clearing: `ID: WHAT`, or `WHAT` alone where one danger stands.
///
/// # Errors
/// When it names none that stands.
pub(super) fn cleared(typed: &[String], standing: &mut [Stood], walk: &Walk<'_>) -> Result<(), Problem> {
    let is_hold = |head: &str| walk.knowledge().holds.iter().any(|hold| hold.id == head);
    for text in typed {
        let (head, rest) = text.split_once(':').unwrap_or(("", text));
        let named = standing
            .iter()
            .position(|stood| is_named(walk, stood, head.trim()));
        let (place, what) = match (named, standing.len()) {
            (Some(place), _) => (place, rest),
            // Words before a colon that name another danger are not what cleared this one.
            (None, 1) if !is_hold(head.trim()) => (0, text.as_str()),
            (None, _) => return Err(unnamed(text, standing)),
        };
        let what = what.trim();
        if what.is_empty() {
            return Err(Problem::usage(format!(
                "`--cleared '{text}'` does not say what cleared it"
            )));
        }
        standing[place].cleared = Some(what.to_owned());
    }
    Ok(())
}

/// Whether a danger is meant: by its id, or by words of its name that no other has.
fn is_named(walk: &Walk<'_>, stood: &Stood, head: &str) -> bool {
    let is_it = |hold: &Hold| hold.id == head || (!head.is_empty() && search::has_all(&hold.name, head));
    let meant: Vec<&Hold> = walk.dangers().into_iter().filter(|hold| is_it(hold)).collect();
    stood.hold == head || matches!(meant.as_slice(), [only] if only.id == stood.hold)
}

fn unnamed(text: &str, standing: &[Stood]) -> Problem {
    let ids: Vec<&str> = standing.iter().map(|stood| stood.hold.as_str()).collect();
    Problem::usage(format!("`--cleared '{text}'` names no danger that stands")).hint(if ids.is_empty() {
        "none stands by the answers; leave it out".to_owned()
    } else {
        format!(
            "give it as `ID: WHAT CLEARED IT`; there stand: {}",
            ids.join(", ")
        )
    })
}
