//! The page of an electrician who has nothing to correct: half a page that says so, and what that rests on.

use crate::report::{CaseResult, Spot};

use super::block::{Block, Section};
use super::figures::{figures, grouped};
use super::pieces::{others, photographs, points, told_of_line_side};

/// Whether the line side is right by what was checked, or was not checked at all.
pub(super) fn lead(result: &CaseResult) -> Vec<String> {
    let verdict = if result.conclusion.kind == "halted" {
        "Not finished. Nothing to correct is known on the line side so far; what could not be checked there stands below."
            .to_owned()
    } else if checked(result).is_empty() {
        "Nothing for the electrician is known yet. The line side was not checked, so nothing is said of it."
            .to_owned()
    } else {
        "Nothing for the electrician: by what was checked, nothing on the line side has to be corrected."
            .to_owned()
    };
    vec![verdict, result.conclusion.text.clone()]
}

pub(super) fn sections(result: &CaseResult) -> Vec<Section> {
    let mut number = 0;
    let until: Vec<String> = result
        .held
        .iter()
        .filter(|hold| !hold.from_start)
        .map(|hold| hold.says.clone())
        .collect();
    let open: Vec<String> = result
        .given
        .iter()
        .filter(|one| !one.known && one.spot.is_some_and(|spot| spot <= Spot::Unit))
        .map(|one| one.name.clone())
        .collect();
    vec![
        Section::new("Whose job it is", others(result)),
        Section::new("Until that is done", points(until)),
        Section::new("Checked on the line side", points(checked(result))),
        Section::new("Could not be checked there", points(open)),
        Section::new(
            "Figures of the line side",
            grouped(&figures(result, &[]), &mut number),
        ),
        Section::new("Where it was measured", vec![Block::OneLine]),
        Section::new("Photographs", photographs(result)),
    ]
}

/// What was looked at or read between the source and the unit's terminals. What is only told of a plate is no check.
fn checked(result: &CaseResult) -> Vec<String> {
    told_of_line_side(result, &["look", "reading"])
}
