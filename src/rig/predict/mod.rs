//! What would be read if: before a test is made, what each leading cause would have the meter show at this very installation.
//!
//! The installation is built from the facts of the case, each cause is put into it as the closed loop does, and read by the same
//! meter. `causes` picks what is compared, `told` says what one test would tell. Nothing of it enters the case or the standing.

mod causes;
mod told;

use schemars::JsonSchema;
use serde::Serialize;

use crate::knowledge::model::{Hazard, HoldIndex, Job, Knowledge, State, TestIndex, TestKind};
use crate::walk::{Question, Resolution, Walk};

use super::MODELED;
use super::installation::Call;
use causes::Compared;
use told::Told;

/// Tests shown. Nobody reads more on a roof; our choice, no source.
const MOST_TESTS: usize = 8;

/// What the readings at the tests not yet made would be. Made from a walk by [`of`], and printed as JSON as it is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Prediction {
    /// What is called for while the unit runs: the same for every cause.
    pub called: Called,
    /// The causes compared, by standing.
    pub causes: Vec<Foreseen>,
    /// Leading causes that read as if nothing were wrong, and why.
    pub as_sound: Vec<Aside>,
    /// Leading causes of which nothing is worked out, and why.
    pub no_model: Vec<Aside>,
    /// Tests that would tell, the most telling first.
    pub tests: Vec<TestForeseen>,
    /// Names of causes, nothing wrong among them, that no reading that may be taken now tells apart; each group by itself.
    pub alike: Vec<Vec<String>>,
    /// What nobody gave, and what was taken instead.
    pub assumed: Vec<Taken>,
    /// Holds that keep tests from being made, and so from being shown.
    pub held: Vec<HeldBack>,
    /// Why nothing is shown at all: the case was stopped for safety.
    pub stopped: Option<String>,
}

/// What is called for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Called {
    /// Cooling, or heat by a heat pump.
    Compressor,
    /// Heat by a burner or heater.
    Heat,
}

/// A cause that was put into the installation.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Foreseen {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its standing, 0 to 1.
    pub probability: f64,
}

/// A cause that was not.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Aside {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its standing, 0 to 1.
    pub probability: f64,
    /// Why not.
    pub why: String,
}

/// A figure nobody gave.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Taken {
    /// Id of the fact.
    pub fact: String,
    /// Its name.
    pub name: String,
    /// What was taken, with its unit.
    pub value: String,
    /// Why this.
    pub why: String,
}

/// A hold that keeps tests from being made.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HeldBack {
    /// Its id.
    pub hold: String,
    /// What it tells the person.
    pub says: String,
    /// The name of the test that comes first; nothing where nothing that can be asked clears it.
    pub first: Option<String>,
    /// How many readings it keeps back.
    pub readings: usize,
}

/// What would be read at one test.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TestForeseen {
    /// Its id.
    pub test: String,
    /// Its name.
    pub name: String,
    /// State the equipment must be in.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Whose job it is, where it is not the HVAC technician's.
    pub job: Option<Job>,
    /// How far it tells the causes apart, 0 to 1: the chance that two of them, drawn by their standing, are read apart; half where
    /// both readings are the same outcome.
    pub tells: f64,
    /// What is read with nothing wrong, then with each cause.
    pub lines: Vec<Line>,
}

/// What one cause would have the meter show.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Line {
    /// Id of the cause; nothing where nothing is wrong.
    pub cause: Option<String>,
    /// Its name.
    pub name: String,
    /// What can be read, one entry for each outcome the test can come to: a cause on one leg or the other reads two ways.
    pub ways: Vec<Way>,
}

/// One way a cause can be read.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Way {
    /// Id of the outcome of the test; nothing where there is no reading, or a figure it is held against is not known.
    pub outcome: Option<String>,
    /// Its label.
    pub label: Option<String>,
    /// At the typical severity; nothing where there is no reading.
    pub typical: Option<Reading>,
    /// The lowest and the highest from mild to severe.
    pub range: Option<[Reading; 2]>,
    /// Why there is no reading at the typical severity, or at another where `typical` is one.
    pub no_reading: Option<String>,
}

/// A reading, rounded as a meter shows it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Reading {
    /// The amount in the base unit.
    pub value: f64,
    /// The base unit.
    pub unit: String,
    /// As a person reads it.
    pub shown: String,
}

/// Works out what would be read; nothing before complaint and equipment are known.
#[must_use]
pub fn of(walk: &Walk<'_>) -> Option<Prediction> {
    let compared = Compared::of(walk)?;
    let called = match compared.mode {
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
    tests.truncate(MOST_TESTS);
    Some(Prediction {
        called,
        assumed: compared.taken(walk.knowledge()),
        causes: compared.foreseen(walk.knowledge()),
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
    let said = match walk.question() {
        Question::Halt { advice, .. } => Some(advice.clone()),
        _ => None,
    };
    said.or_else(|| Some(walk.knowledge().holds[walk.ending_hold()?.0].says.clone()))
}

/// The readings not made yet that the rig reads, that belong here and that no hold keeps back; and the holds that keep others back.
fn open(walk: &Walk<'_>) -> (Vec<TestIndex>, Vec<HeldBack>) {
    let mut open = Vec::new();
    let mut held: Vec<(HoldIndex, HeldBack)> = Vec::new();
    let knowledge = walk.knowledge();
    for test in (0..knowledge.tests.len()).map(TestIndex) {
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
    let hold = &knowledge.holds[hold.0];
    HeldBack {
        hold: hold.id.clone(),
        says: hold.says.clone(),
        first: first.map(|test| knowledge.tests[test.0].name.clone()),
        readings: 1,
    }
}

fn belongs(walk: &Walk<'_>, test: TestIndex) -> bool {
    let known = &walk.knowledge().tests[test.0];
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
