//! Complaints and causes in words that no customer needs to ask about.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::knowledge::model::Place;

#[derive(Default, Deserialize)]
struct Words {
    complaint: BTreeMap<String, String>,
    cause: BTreeMap<String, String>,
    equipment: BTreeMap<String, String>,
    stop: BTreeMap<String, Vec<String>>,
    fuel: Fuel,
    unlooked: BTreeMap<String, String>,
    off: Off,
    meanwhile: Vec<Meanwhile>,
}

/// Where gas or oil burns, so that all who are there are told what to do at a smell of it.
#[derive(Default, Deserialize)]
struct Fuel {
    equipment: Vec<String>,
    complaints: Vec<String>,
}

/// Where nobody is told to use it as usual.
#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Off {
    complaints: Vec<String>,
    until_known: Vec<String>,
    while_it_lasts: Vec<String>,
    told: Vec<String>,
    unproven: Vec<String>,
    causes: Vec<String>,
}

/// What the people there do until a cause is put right.
#[derive(Deserialize)]
struct Meanwhile {
    causes: Vec<String>,
    says: String,
}

static WORDS: LazyLock<Words> =
    LazyLock::new(|| toml::from_str(include_str!("plain.toml")).unwrap_or_default());

/// What a complaint is in plain words.
#[must_use]
pub fn complaint(id: &str) -> &str {
    WORDS
        .complaint
        .get(id)
        .map_or("The equipment did not work as it should.", String::as_str)
}

/// What a kind of equipment is in plain words.
#[must_use]
pub fn equipment(id: &str) -> &str {
    WORDS
        .equipment
        .get(id)
        .map_or("Heating or cooling equipment", String::as_str)
}

/// Whether gas or oil may burn there: in a kind of equipment, or with a complaint.
#[must_use]
pub fn burns_fuel(equipment: &str, complaint: &str) -> bool {
    let fuel = &WORDS.fuel;
    fuel.equipment.iter().any(|one| one == equipment) || fuel.complaints.iter().any(|one| one == complaint)
}

/// What is said while nobody has looked for what a hold is about.
#[must_use]
pub fn unlooked(hold: &str) -> Option<&'static str> {
    WORDS.unlooked.get(hold).map(String::as_str)
}

/// Whether a stop is for checks that are missing.
#[must_use]
pub fn is_stop_unproven(id: &str) -> bool {
    WORDS.off.unproven.iter().any(|one| one == id)
}

/// What whoever lives there has to do at a stop for safety, in order. An id that is not written down gets what is right at
/// every stop.
#[must_use]
pub fn stop(id: &str) -> &'static [String] {
    WORDS
        .stop
        .get(id)
        .or_else(|| WORDS.stop.get("any"))
        .map_or(&[], Vec::as_slice)
}

/// Every cause for which something is written down that holds until it is put right.
pub fn with_meanwhile() -> impl Iterator<Item = &'static str> {
    WORDS
        .meanwhile
        .iter()
        .flat_map(|one| one.causes.iter().map(String::as_str))
}

/// Whether a complaint keeps the equipment from being used as usual while its case is open; some do only until the reason
/// is known.
#[must_use]
pub fn complaint_keeps_off(id: &str, reason_known: bool) -> bool {
    let off = &WORDS.off;
    off.complaints.iter().any(|one| one == id)
        || (!reason_known && off.until_known.iter().any(|one| one == id))
}

/// Whether a complaint keeps it off for as long as it lasts, or something that was told does: a test and its outcome.
#[must_use]
pub fn lasting_keeps_off<'a>(complaint: &str, mut told: impl Iterator<Item = (&'a str, &'a str)>) -> bool {
    let off = &WORDS.off;
    let is_told = |(test, outcome): (&str, &str)| {
        off.told
            .iter()
            .any(|one| one.split_once('/') == Some((test, outcome)))
    };
    off.while_it_lasts.iter().any(|one| one == complaint) || told.any(is_told)
}

/// What was told that keeps it off while it lasts: a test and its outcome.
pub fn told_keeps_off() -> impl Iterator<Item = (&'static str, &'static str)> {
    WORDS.off.told.iter().filter_map(|one| one.split_once('/'))
}

/// Place of what is done until then among all of it, the worst first.
#[must_use]
pub fn meanwhile_rank(says: &str) -> usize {
    let place = WORDS.meanwhile.iter().position(|one| one.says == says);
    place.unwrap_or(WORDS.meanwhile.len())
}

/// Whether a cause can hurt somebody while it lasts.
#[must_use]
pub fn cause_keeps_off(id: &str) -> bool {
    WORDS.off.causes.iter().any(|one| one == id) || meanwhile(id).is_some()
}

/// Every complaint and every cause with which nobody is told to use it as usual.
pub fn kept_off() -> (
    impl Iterator<Item = &'static str>,
    impl Iterator<Item = &'static str>,
) {
    let off = &WORDS.off;
    let complaints = off
        .complaints
        .iter()
        .chain(&off.until_known)
        .chain(&off.while_it_lasts);
    (
        complaints.map(String::as_str),
        off.causes.iter().map(String::as_str),
    )
}

/// What whoever lives there does until a cause is put right, where using it as usual would be wrong.
#[must_use]
pub fn meanwhile(id: &str) -> Option<&'static str> {
    let of = |one: &&Meanwhile| one.causes.iter().any(|cause| cause == id);
    WORDS.meanwhile.iter().find(of).map(|one| one.says.as_str())
}

/// What a cause is in plain words, where it is written down.
#[must_use]
pub fn known_cause(id: &str) -> Option<&'static str> {
    WORDS.cause.get(id).map(String::as_str)
}

/// The same; a cause that is not written down is told by where it sits.
#[must_use]
pub fn cause(id: &str, place: Place) -> &'static str {
    known_cause(id).unwrap_or(match place {
        Place::Utility => "The trouble comes from the power company's side of the meter.",
        Place::Service => "The trouble is where the power comes into the building.",
        Place::Panel => "The trouble is in the electrical panel.",
        Place::Branch => "The trouble is in the wires between the electrical panel and the equipment.",
        Place::Disconnect => "The trouble is in the shut-off switch or the plug of the equipment.",
        Place::Unit => "The trouble is in the wires inside the equipment.",
        Place::Load => "The trouble is in one of the motors or heaters of the equipment.",
        Place::Control => "The trouble is in the thin wires and the small parts that control the equipment.",
        Place::NotElectrical => {
            "The trouble is not electrical. It has to do with air, water, cooling gas or fuel."
        }
    })
}

/// Whether the plain words say that nothing has to be repaired.
#[must_use]
pub fn nothing_broken(id: &str) -> bool {
    known_cause(id).is_some_and(|text| {
        [
            "Nothing is broken",
            "nothing wrong",
            "That is normal",
            "The power is right",
            "The equipment is right",
        ]
        .iter()
        .any(|words| text.contains(words))
    })
}
