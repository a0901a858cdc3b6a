//! Words for what a case is about, and whether they meet those asked for.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::inference::stop;
use crate::inference::words::percent;
use crate::journal::Case;
use crate::journal::life::{Life, Stage};
use crate::knowledge::model::Knowledge;
use crate::walk::{Event, Proof};

/// A time as the person reads it, by the clock of the place.
pub(super) fn clock(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system())
        .strftime("%Y-%m-%d %H:%M")
        .to_string()
}

/// Said of a case whose walk ended at a stop for safety.
pub(super) const STOPPED: &str = "stopped for safety";

/// Whether the walk of a case ended at a stop for safety.
pub(super) fn is_stopped(life: &Life) -> bool {
    let concluded = life
        .concluded
        .as_ref()
        .and_then(|concluded| concluded.what.as_ref());
    concluded.is_some_and(|concluded| concluded.halted)
}

/// The name of a cause, or what it was where none is listed.
pub(super) fn cause(knowledge: &Knowledge, id: Option<&str>, not_listed: Option<&str>) -> String {
    match (id, not_listed) {
        (Some(id), _) => knowledge
            .cause(id)
            .map_or_else(|| id.to_owned(), |cause| knowledge.causes[cause].name.clone()),
        (None, Some(what)) => format!("not listed: {what}"),
        (None, None) => "not listed".to_owned(),
    }
}

/// The name of the complaint.
pub(super) fn complaint(knowledge: &Knowledge, life: &Life) -> String {
    let Some(id) = &life.complaint else {
        return "no complaint yet".to_owned();
    };
    knowledge.tree(id).map_or_else(
        || id.clone(),
        |tree| {
            let tree = &knowledge.trees[tree];
            tree.complaint.clone().unwrap_or_else(|| tree.id.clone())
        },
    )
}

/// The name of the equipment.
pub(super) fn equipment(knowledge: &Knowledge, life: &Life) -> Option<String> {
    let id = life.equipment.as_ref()?;
    Some(
        knowledge
            .equipment(id)
            .map_or_else(|| id.clone(), |kind| knowledge.equipment[kind].name.clone()),
    )
}

/// Whether the walk ended before one cause stood clear.
fn is_unsettled(life: &Life) -> bool {
    let concluded = life
        .concluded
        .as_ref()
        .and_then(|concluded| concluded.what.as_ref());
    concluded.is_some_and(|concluded| {
        let leads = concluded.leader.as_ref().map_or(0.0, |leader| leader.probability);
        !concluded.halted && leads < stop::STRONG_ENOUGH
    })
}

/// How far the case got, in words: `closed, proved`.
pub(super) fn stage(life: &Life) -> &'static str {
    match (life.stage(), &life.closing) {
        (Stage::Closed, Some(closing)) if closing.what.proved => "closed, proved",
        (Stage::Closed, Some(_)) => "closed, a guess",
        (Stage::Concluded, _) if is_unsettled(life) => "concluded, not settled",
        (stage, _) => stage.word(),
    }
}

/// That a case was closed with a danger standing, where it was: `closed with a danger standing: ...`.
pub(super) fn left_standing(knowledge: &Knowledge, life: &Life) -> Option<String> {
    let closing = life.closing.as_ref().filter(|_| life.stage() == Stage::Closed)?;
    let name = |id: &str| {
        let known = knowledge.holds.iter().find(|hold| hold.id == id);
        known.map_or_else(|| id.to_owned(), |hold| hold.name.clone())
    };
    let names: Vec<String> = closing.what.left_standing().map(name).collect();
    (!names.is_empty()).then(|| format!("closed with a danger standing: {}", names.join("; ")))
}

/// What a proof says.
pub(super) fn proof(proof: &Proof) -> String {
    match proof {
        Proof::Recheck { reading } => reading.clone(),
        Proof::CleanRun { ran, needed, between } => format!(
            "ran clean {ran:.0} h; {needed:.0} h were needed, as it used to fail about every {between:.0} h"
        ),
    }
}

/// What the case came to, when it came to anything.
pub(super) fn outcome(knowledge: &Knowledge, life: &Life) -> Option<String> {
    if let (Stage::Closed, Some(closing)) = (life.stage(), &life.closing) {
        let closing = &closing.what;
        return Some(cause(
            knowledge,
            closing.cause.as_deref(),
            closing.not_listed.as_deref(),
        ));
    }
    let concluded = life.concluded.as_ref()?.what.as_ref()?;
    let leader = concluded.leader.as_ref()?;
    Some(format!(
        "leads: {} ({})",
        cause(knowledge, Some(&leader.cause), None),
        percent(leader.probability)
    ))
}

/// Everything a person may remember of a case, in small letters.
pub(super) fn all(knowledge: &Knowledge, life: &Life, case: &Case) -> String {
    let mut words: Vec<String> = vec![complaint(knowledge, life)];
    words.extend(life.complaint.clone());
    words.extend(life.equipment.clone());
    words.extend(equipment(knowledge, life));
    words.extend(life.place.clone());
    words.extend(life.unit.clone());
    words.extend(life.visits.iter().filter_map(|visit| visit.technician.clone()));
    words.extend(life.notes.iter().map(|note| note.what.clone()));
    for repair in &life.repairs {
        words.push(repair.what.text.clone());
        words.extend(repair.what.by.clone());
    }
    words.extend(life.proofs.iter().map(|by| proof(&by.what)));
    words.extend(
        life.photographs
            .iter()
            .filter_map(|photo| photo.what.shows.clone()),
    );
    words.extend(outcome(knowledge, life));
    // What the list itself prints can be looked for.
    words.push(stage(life).to_owned());
    if life.before.is_some() {
        words.push("a callback".to_owned());
    }
    if is_stopped(life) {
        words.push(STOPPED.to_owned());
    }
    words.extend(left_standing(knowledge, life));
    if let Some(closing) = &life.closing {
        words.extend(
            closing
                .what
                .standing
                .iter()
                .filter_map(|stood| stood.cleared.clone()),
        );
        words.push(closing.what.text.clone());
        words.extend(closing.what.cause.clone());
        words.extend(closing.what.not_listed.clone());
    }
    for record in &case.records {
        if let Event::Fact { typed, .. } | Event::Answer { typed, .. } = &record.event {
            words.push(typed.clone());
        }
    }
    words.join("\n").to_lowercase()
}
