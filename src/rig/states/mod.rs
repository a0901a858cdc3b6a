//! What physics says of the effects of the knowledge: which states of an effect fit what the installation does.
//!
//! An effect is here only where the installation decides it. Where it does not (what was changed, how it began) the state stays as it
//! was sampled from the cause. `told` is what an hour of running shows whoever lives there, `called_for` which
//! complaints that brings.

mod bounds;
mod called_for;
mod control;
mod fitting;
mod ground;
mod load;
mod path;
mod ruled_out;
mod supply;
mod told;

pub use fitting::Fitting;

use crate::knowledge::model::{CauseIndex, EffectIndex, Knowledge, TestKind};

use super::bench::{Bench, Stage};
use super::case::Site;
use super::clock::What;
use super::course::{Course, Trouble};
use super::faults::When;
use super::installation::Call;

/// Every effect that an installation can decide. A test holds it against what is decided over all causes and equipment.
pub const DECIDED: [&str; 43] = [
    "amps-at-device",
    "armature",
    "blower-turns",
    "brought-on",
    "capacitor",
    "code",
    "coil-called",
    "comes-back",
    "compressor-start",
    "compressor-windings",
    "contactor-coil",
    "contactor-sound",
    "contacts",
    "control-lost-at",
    "control-volts",
    "dead",
    "good-capacitor-try",
    "ground-path",
    "heat-at",
    "heat-stages",
    "hot-part",
    "joint-drop",
    "leak",
    "legs",
    "lights",
    "lost-at",
    "main-load",
    "metal-volts",
    "moment",
    "neutral-volts",
    "nothing-wrong",
    "opened",
    "opens-after",
    "outdoor-fan-turns",
    "phase-lost-at",
    "phases",
    "running-amps",
    "shock",
    "sound",
    "start-amps",
    "supply-load",
    "supply-rest",
    "weather",
];

/// Looks, and things asked, that no installation decides, each with the effects it shows: they are drawn with the hidden fault from
/// what its cause does.
#[must_use]
pub fn looks_without_model(knowledge: &Knowledge) -> Vec<(String, Vec<String>)> {
    let looks = knowledge
        .tests
        .iter()
        .filter(|test| matches!(test.kind, TestKind::Look));
    let shown = looks.map(|test| {
        let shown = test.outcomes.iter().flat_map(|outcome| &outcome.shows);
        let mut shown: Vec<String> = shown
            .map(|shown| knowledge.effects[shown.effect].id.clone())
            .collect();
        shown.sort_unstable();
        shown.dedup();
        (test.id.clone(), shown)
    });
    let decided = |effect: &String| DECIDED.contains(&effect.as_str());
    shown.filter(|(_, shown)| !shown.iter().any(decided)).collect()
}

/// Every effect the installation decides, with its hidden fault and how the trouble of it goes.
#[must_use]
pub fn of(site: &Site, course: &Course) -> Vec<Fitting> {
    let mut all = now(&site.bench);
    if site.fault.when != When::Always {
        all.retain(|(effect, _)| *effect != "dead");
        for fitting in &mut all {
            *fitting = at_times(*fitting, site.fault.when);
        }
    } else if let Some(dead) = runs(site, course) {
        all.push(dead);
    }
    all.extend(told::all(site, course));
    all
}

/// The same, as a customer tells and a technician finds it who was called for a complaint: it adds what the fault rules out of what its
/// cause says nothing of, and leaves the burnt part of that complaint where it was sampled, when no joint is hot enough
/// by itself.
#[must_use]
pub fn of_call(
    knowledge: &Knowledge,
    truth: CauseIndex,
    complaint: Option<&str>,
    site: &Site,
    course: &Course,
) -> Vec<Fitting> {
    let does = &knowledge.causes[truth].does;
    let states = |id: &str| {
        let effect = knowledge.effect(id);
        does.iter().any(|does| Some(does.effect) == effect)
    };
    let mut all = of(site, course);
    let ruled_out = ruled_out::all(site, course);
    let of_others = ruled_out
        .into_iter()
        .filter(|(effect, _)| !states(effect) && !all.iter().any(|(fitted, _)| fitted == effect));
    let of_others: Vec<Fitting> = of_others.collect();
    all.extend(of_others);
    // What it was called in for comes back, or locks out.
    if complaint == Some("equipment-resets") {
        leave_out(&mut all, "comes-back", "stays");
    }
    if complaint == Some("part-burnt") {
        leave_out(&mut all, "heat-at", "nowhere");
    }
    all
}

/// Takes the best state from those of an effect where it is the one that the complaint denies; where it is the only one, the effect.
fn leave_out(all: &mut Vec<Fitting>, of: &str, state: &str) {
    let denied = |fitting: &Fitting| fitting.0 == of && fitting.1.first() == Some(&state);
    all.retain(|fitting| !denied(fitting) || fitting.1.len() > 1);
    for fitting in all.iter_mut().filter(|fitting| denied(fitting)) {
        fitting.1 = &fitting.1[1..];
    }
}

/// The places of effects and states by their ids; what the knowledge does not have is left out.
#[must_use]
pub fn placed(knowledge: &Knowledge, fitting: &[Fitting]) -> Vec<(EffectIndex, Vec<usize>)> {
    fitting
        .iter()
        .filter_map(|(effect, fits)| {
            let place = knowledge.effect(effect)?;
            let states = &knowledge.effects[place].states;
            let at = |id: &&str| states.iter().position(|state| state.id == **id);
            Some((place, fits.iter().filter_map(at).collect()))
        })
        .collect()
}

/// Whether a fault brings a complaint; nothing where physics does not decide it.
#[must_use]
pub fn brings(site: &Site, course: &Course, complaint: &str) -> Option<bool> {
    called_for::brings(site, course, complaint)
}

/// The state of an effect whose fault is there only at times.
fn at_times(fitting: Fitting, when: When) -> Fitting {
    let (effect, states) = fitting;
    let state = states.first().copied().unwrap_or_default();
    let states: &[&str] = match (effect, when) {
        ("leak", When::Wet) if state != "none" => &["low-when-wet"],
        ("leak", When::Shaken | When::Warm) if state != "none" => &["comes-and-goes", "dead-short"],
        ("control-volts", _) if matches!(state, "gone" | "sags") => &["comes-and-goes", "gone"],
        ("metal-volts", When::Wet) if state != "none" => &["wet"],
        ("compressor-windings", When::Warm) if state == "open-cool" => &["open-hot"],
        ("outdoor-fan-turns", When::Warm) if state == "stopped" => &["stops-hot"],
        ("blower-turns", When::Warm) if state == "dead" => &["stops-hot"],
        ("compressor-start", When::Warm) if state != "starts" => &["stops-hot"],
        ("supply-load", When::Shaken) if state == "sag" => &["swing", "sag"],
        _ => states,
    };
    (effect, states)
}

/// What stays dead of a unit whose compressor turns or that has none: one part, or nothing.
fn runs(site: &Site, course: &Course) -> Option<Fitting> {
    let bench = &site.bench;
    let values = &bench.installation.values;
    let plate = &bench.installation.plate;
    let changes = !site.fault.changes.is_empty();
    let found = bench.at(Stage::Running).ok().filter(|_| changes)?;
    let quiet = course.hard.trouble() == Trouble::Quiet;
    let stops = |what: What| course.hard.first(|happened| happened == what).is_some();
    let states: &[&str] = if values.contact_welded > 0.0 || values.heat_stuck > 0.0 {
        &["runs-without-call"]
    } else if values.heat_dead > 0.0 {
        &["electric-heat", "all-runs"]
    } else if values.blower_open + values.blower_locked > 0.0 {
        &["blower"]
    } else if bench.mode != Call::Cooling
        || plate.rated_load == 0.0
        || !found.turns
        || called_for::flame_may_fail(bench)
    {
        return None;
    } else if values.fan_open + values.fan_locked > 0.0 {
        &["outdoor-fan"]
    } else if stops(What::FanStops) {
        &["outdoor-fan", "all-runs"]
    } else if stops(What::BlowerStops) {
        &["blower", "all-runs"]
    } else if quiet && !told::stands(site) {
        &["all-runs"]
    } else {
        return None;
    };
    Some(("dead", states))
}

/// Every effect an installation decides at the moment.
#[must_use]
pub fn now(bench: &Bench) -> Vec<Fitting> {
    let all: [fn(&Bench) -> Option<Fitting>; 28] = [
        supply::supply_rest,
        supply::supply_load,
        supply::legs,
        supply::main_load,
        supply::neutral,
        path::lost_at,
        path::joint_drop,
        path::heat_at,
        supply::phases,
        supply::phase_lost_at,
        load::running_amps,
        load::amps_at_device,
        load::leak,
        load::capacitor,
        load::windings,
        control::contacts,
        control::coil,
        control::called,
        control::sound,
        load::start,
        load::fan,
        load::blower,
        control::control,
        control::control_lost_at,
        ground::ground_path,
        ground::metal_volts,
        load::dead,
        control::armature,
    ];
    all.iter().filter_map(|decide| decide(bench)).collect()
}
