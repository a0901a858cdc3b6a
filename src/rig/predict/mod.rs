//! What would be read if: before a test is made, what each leading cause would have the meter show at this very installation.
//!
//! The installation is built from the facts of the case, each cause is put into it as the closed loop does, and read by the same
//! meter. `tuned` is what readings already taken settle of the installation, `causes` picks what is compared, `told` says what one test
//! would tell. Nothing of it enters the case or the standing.

mod causes;
mod form;
mod told;
mod tuned;

use crate::knowledge::model::{HoldIndex, Knowledge, TestIndex, TestKind};
use crate::walk::{Question, Resolution, Walk};

use super::MODELED;
use super::installation::Call;
use causes::Compared;
use told::Told;

pub use form::{
    Aside, Called, Foreseen, HeldBack, Line, Prediction, Reading, Taken, TestForeseen, Tuned, Way, schema,
};

/// Tests shown. Nobody reads more on a roof; our choice, no source.
const MOST_TESTS: usize = 8;

/// Of these, tests at which every cause reads as the same outcome and only the figure differs: the walk goes on alike whichever it is.
const MOST_OF_ONE_OUTCOME: usize = 3;

/// Works out what would be read; nothing before complaint and equipment are known.
#[must_use]
pub fn of(walk: &Walk<'_>) -> Option<Prediction> {
    let compared = Compared::of(walk)?;
    let called = match compared.mode {
        _ if !compared.has_load() => Called::Nothing,
        Call::Heat => Called::Heat,
        Call::Rest | Call::Cooling | Call::Fan => Called::Compressor,
    };
    let stopped = stop(walk);
    let (open, held) = if stopped.is_some() {
        (Vec::new(), Vec::new())
    } else {
        open(walk)
    };
    let told: Vec<Told> = open
        .into_iter()
        .filter_map(|test| told::of(walk, &compared, test))
        .collect();
    let alike = alike(walk.knowledge(), &compared, &told);
    let mut tests: Vec<TestForeseen> = told.into_iter().map(|told| told.foreseen).collect();
    // Of two that tell as much, the one without power and the shorter one come first.
    tests.sort_by(|a, b| {
        b.tells
            .total_cmp(&a.tells)
            .then(a.state.is_powered().cmp(&b.state.is_powered()))
            .then(a.minutes.total_cmp(&b.minutes))
    });
    tests = without_twins(tests);
    let mut room = MOST_OF_ONE_OUTCOME;
    tests.retain(|test| {
        let shown = !test.is_of_one_outcome() || room > 0;
        room -= usize::from(shown && test.is_of_one_outcome());
        shown
    });
    tests.truncate(MOST_TESTS);
    let knowledge = walk.knowledge();
    Some(Prediction {
        complaint: knowledge.trees[walk.complaint()?].id.clone(),
        equipment: knowledge.equipment[walk.equipment()?].id.clone(),
        called,
        assumed: compared.taken(knowledge),
        causes: compared.foreseen(knowledge),
        tuned: compared.tuned,
        as_sound: compared.as_sound,
        no_model: compared.no_model,
        alike,
        tests,
        held,
        stopped,
    })
}

/// Leaves out a test at which everything reads as at one before it.
fn without_twins(tests: Vec<TestForeseen>) -> Vec<TestForeseen> {
    let mut kept: Vec<TestForeseen> = Vec::new();
    for test in tests {
        if !kept.iter().any(|before| before.lines == test.lines) {
            kept.push(test);
        }
    }
    kept
}

/// Groups of what is compared in which no test tells any two apart.
fn alike(knowledge: &Knowledge, compared: &Compared, told: &[Told]) -> Vec<Vec<String>> {
    let parted = |a: usize, b: usize| told.iter().any(|told| told.parts[a][b]);
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for place in 0..compared.supposed.len() {
        let fits = |group: &&mut Vec<usize>| group.iter().all(|other| !parted(place, *other));
        match groups.iter_mut().find(fits) {
            Some(group) => group.push(place),
            None => groups.push(vec![place]),
        }
    }
    groups.retain(|group| group.len() > 1);
    let name = |place: usize| compared.supposed[place].name(knowledge).to_owned();
    groups
        .into_iter()
        .map(|group| group.into_iter().map(name).collect())
        .collect()
}

/// What stops the case for safety, and with it every test.
fn stop(walk: &Walk<'_>) -> Option<String> {
    let (says, call) = match walk.question() {
        Question::Halt { advice, call } => (advice, Some(call)),
        _ => {
            let hold = &walk.knowledge().holds[walk.ending_hold()?];
            (&hold.says, hold.call.as_ref())
        }
    };
    let call = call.filter(|call| !call.is_empty());
    Some(call.map_or_else(|| says.clone(), |call| format!("{says} Call: {call}")))
}

/// The readings not made yet that the rig reads, that belong here and that no hold keeps back; and the holds that keep others back.
fn open(walk: &Walk<'_>) -> (Vec<TestIndex>, Vec<HeldBack>) {
    let mut open = Vec::new();
    let mut held: Vec<(HoldIndex, HeldBack)> = Vec::new();
    let knowledge = walk.knowledge();
    for test in knowledge.tests.indices() {
        if !belongs(walk, test) || is_made(walk, test) {
            continue;
        }
        let Some(stopped) = walk.stopped(test) else {
            open.push(test);
            continue;
        };
        match held.iter_mut().find(|(hold, _)| *hold == stopped.hold) {
            Some((_, back)) => back.readings += 1,
            None => held.push((stopped.hold, held_back(knowledge, stopped.hold, stopped.first))),
        }
    }
    (open, held.into_iter().map(|(_, back)| back).collect())
}

fn held_back(knowledge: &Knowledge, hold: HoldIndex, first: Option<TestIndex>) -> HeldBack {
    let hold = &knowledge.holds[hold];
    HeldBack {
        hold: hold.id.clone(),
        says: hold.says.clone(),
        first: first.map(|test| knowledge.tests[test].name.clone()),
        readings: 1,
    }
}

fn belongs(walk: &Walk<'_>, test: TestIndex) -> bool {
    let known = &walk.knowledge().tests[test];
    let under = |complaint| known.complaints.is_empty() || known.complaints.contains(&complaint);
    matches!(known.kind, TestKind::Reading { .. })
        && MODELED.contains(&known.id.as_str())
        && walk.applies(test)
        && walk.complaint().is_some_and(under)
}

/// A reading that could not be taken is still to be made.
fn is_made(walk: &Walk<'_>, test: TestIndex) -> bool {
    walk.reading(test).is_some() || matches!(walk.resolution(test), Resolution::Known(_))
}
