//! The closed loop: the same walk as at a real callback, answered by the rig, over causes, equipment, severities and meters.

use crate::knowledge::behind::COMPLAINT;
use std::convert::Infallible;

use fastrand::Rng;

use crate::inference::shares::pick;
use crate::knowledge::model::{CauseIndex, EquipmentIndex, Knowledge, TreeIndex};
use crate::walk::{self, End, Event, Walk};

use super::case::Site;
use super::course::Course;
use super::faults::{self, Model};
use super::respondent::Rig;
use super::simulated::{GROWS, NoRig};
use super::states;

/// One case to be walked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Case {
    /// The true cause.
    pub truth: CauseIndex,
    /// One that has the parts of the cause.
    pub equipment: EquipmentIndex,
    /// What the customer calls for.
    pub complaint: TreeIndex,
    /// From 0, slight, to 1, grave.
    pub severity: f64,
    /// Seed of leg, look, meter and all that physics does not decide.
    pub seed: u64,
    /// The complaint is one that the fault brings or may bring; else nothing anybody calls for comes of it even at its gravest: nobody
    /// would ever come.
    pub felt: bool,
}

/// What to walk.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Only this cause.
    pub cause: Option<CauseIndex>,
    /// Only this complaint.
    pub complaint: Option<TreeIndex>,
    /// Only this equipment.
    pub equipment: Option<EquipmentIndex>,
    /// Severities of each cause on each equipment, spread evenly.
    pub severities: u32,
    /// Seed of everything.
    pub seed: u64,
}

/// How a case ended.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Ended {
    pub case: Case,
    /// Place of the true cause in the standing, from 1; 0 where it is not in it.
    pub rank: usize,
    pub led: Option<CauseIndex>,
    /// The share it led with.
    pub share: f64,
    /// Questions asked.
    pub questions: usize,
    pub minutes: f64,
    /// Tests with power on.
    pub live: usize,
    /// It was stopped for safety.
    pub halted: bool,
    /// What was asked and answered.
    pub way: Vec<String>,
}

/// Customers hardly ever call for something a cause brings more seldom than this. Our choice, no source.
const SELDOM: f64 = 0.02;

/// How often a cause brings each complaint, by tree.
fn complaints(knowledge: &Knowledge, truth: CauseIndex) -> Vec<(TreeIndex, f64)> {
    let Some(effect) = knowledge.effect(COMPLAINT) else {
        return Vec::new();
    };
    let states = &knowledge.effects[effect].states;
    let does = knowledge.causes[truth]
        .does
        .iter()
        .find(|does| does.effect == effect);
    states
        .iter()
        .enumerate()
        .filter_map(|(place, state)| {
            let share = does.map_or(state.usual, |does| does.shares[place]);
            Some((knowledge.tree(&state.id)?, share)).filter(|_| share >= SELDOM)
        })
        .collect()
}

/// Share of what a cause brings that must be left by physics for somebody to have called. Our choice, no source.
const LEAST_LEFT: f64 = 0.1;

/// Settles what the customer calls for in a case: what the cause brings and the physics of this fault does not rule out. Nobody calls for a
/// fault that is not felt, so it grows until it is.
#[must_use]
pub fn called(knowledge: &Knowledge, case: Case, wanted: Wanted) -> Case {
    let offered = offered(knowledge, case.truth, case.equipment, wanted);
    let own = accessories(knowledge, &case);
    let equipment = knowledge.equipment[case.equipment].fitted_with(&own);
    let cause = &knowledge.causes[case.truth];
    let mut rng = Rng::with_seed(case.seed ^ 0xca11_ed00);
    let all: f64 = offered.iter().map(|(_, share)| share).sum();
    for part in GROWS {
        let severity = case.severity + part * (1.0 - case.severity);
        let Ok(site) = Site::sample(&equipment, cause, Some(severity), case.seed) else {
            break;
        };
        let Ok(course) = Course::of(&site) else { break };
        let left = offered.iter().map(|(tree, share)| {
            let brought = states::brings(&site, &course, &knowledge.trees[*tree].id);
            if brought == Some(false) { 0.0 } else { *share }
        });
        let left: Vec<f64> = left.collect();
        if left.iter().sum::<f64>() >= LEAST_LEFT * all {
            return Case {
                complaint: offered[pick(&mut rng, &left)].0,
                severity,
                ..case
            };
        }
    }
    Case { felt: false, ..case }
}

/// The complaints a cause brings on an equipment, with how often.
fn offered(
    knowledge: &Knowledge,
    truth: CauseIndex,
    equipment: EquipmentIndex,
    wanted: Wanted,
) -> Vec<(TreeIndex, f64)> {
    complaints(knowledge, truth)
        .into_iter()
        .filter(|(tree, _)| knowledge.trees[*tree].fit.fits(&knowledge.equipment[equipment]))
        .filter(|(tree, _)| wanted.complaint.is_none_or(|only| only == *tree))
        .collect()
}

/// Every case wanted: each cause with a model, on each equipment that can have it, under a complaint it brings there. Physics has no say in
/// the complaint yet: see [`called`].
#[must_use]
pub fn cases(knowledge: &Knowledge, wanted: Wanted) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    for (truth, cause) in knowledge.causes.indexed() {
        let modeled = !matches!(faults::of(&cause.id), None | Some(Model::Nothing(_)));
        if !modeled || wanted.cause.is_some_and(|only| only != truth) {
            continue;
        }
        for (kind, equipment) in knowledge.equipment.indexed() {
            if !cause.applies_to(equipment) || wanted.equipment.is_some_and(|only| only != kind) {
                continue;
            }
            let offered = offered(knowledge, truth, kind, wanted);
            if offered.is_empty() {
                continue;
            }
            let shares: Vec<f64> = offered.iter().map(|(_, share)| *share).collect();
            for number in 0..wanted.severities {
                let seed = wanted.seed ^ (cases.len() as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
                let mut rng = Rng::with_seed(seed);
                cases.push(Case {
                    truth,
                    equipment: kind,
                    complaint: offered[pick(&mut rng, &shares)].0,
                    severity: (f64::from(number) + rng.f64()) / f64::from(wanted.severities),
                    seed,
                    felt: true,
                });
            }
        }
    }
    cases
}

/// Accessories that must be fitted for the cause to be there; no others are.
fn accessories(knowledge: &Knowledge, case: &Case) -> Vec<String> {
    let own = &knowledge.equipment[case.equipment].accessories;
    let parts = &knowledge.causes[case.truth].parts;
    own.iter().filter(|part| parts.contains(part)).cloned().collect()
}

/// The walk of a case at its beginning.
pub(super) fn begun<'k>(knowledge: &'k Knowledge, case: &Case) -> Option<Walk<'k>> {
    let mut walk = Walk::new(knowledge);
    let complaint = knowledge.trees[case.complaint].id.clone();
    walk.apply(&Event::Complaint { complaint }).ok()?;
    let equipment = knowledge.equipment[case.equipment].id.clone();
    walk.apply(&Event::Equipment { equipment }).ok()?;
    let fitted = Some(accessories(knowledge, case));
    if !knowledge.equipment[case.equipment].accessories.is_empty() {
        walk.apply(&Event::Accessories { fitted }).ok()?;
    }
    Some(walk)
}

/// Walks a case to its end.
///
/// # Errors
/// When there is no rig for it.
pub fn walk(knowledge: &Knowledge, case: &Case) -> Result<Ended, NoRig> {
    let mut walk = begun(knowledge, case).ok_or(NoRig::NotHere)?;
    let mut rig = Rig::sample(&walk, case.truth, case.severity, case.seed)?;
    let end = walk::drive::<Infallible>(&mut walk, &mut rig, &mut |_| Ok(()));
    let ranked = walk.ranked();
    let place = ranked.iter().position(|(cause, _)| *cause == case.truth);
    let first = ranked.first();
    Ok(Ended {
        case: *case,
        rank: place.map_or(0, |place| place + 1),
        led: first.map(|(cause, _)| *cause),
        share: first.map_or(0.0, |(_, share)| *share),
        questions: rig.questions,
        minutes: rig.minutes,
        live: rig.live,
        halted: matches!(end, Ok(End::Halted)),
        way: rig.way,
    })
}
