//! Invented places, people and findings. None is anybody's: streets are trees and numbers, people are shifts and numbers.

pub(super) const STREETS: [&str; 16] = [
    "Alder", "Ash", "Aspen", "Birch", "Buckeye", "Cedar", "Elder", "Hawthorn", "Hazel", "Juniper", "Larch",
    "Linden", "Rowan", "Sorrel", "Tamarack", "Willow",
];

/// What follows the street.
pub(super) const WAYS: [&str; 4] = ["Lane", "Row", "Court", "Bend"];

pub(super) const UNITS: [&str; 5] = [
    "north roof",
    "south side",
    "attic",
    "basement",
    "behind the garage",
];

/// What was found where the knowledge lists nothing.
pub(super) const NOT_LISTED: [&str; 8] = [
    "mouse nest in the blower cabinet",
    "ants between the contacts of a relay that is not on the list",
    "a timer somebody had hidden behind the panel",
    "staple through the thermostat cable, seen only with the trim off",
    "wrong part number in the box it came in",
    "fence screw through the buried cable",
    "a second thermostat left in the wall, still wired",
    "ice from a leaking gutter on the disconnect",
];

/// Remarks made on the way.
pub(super) const REMARKS: [&str; 8] = [
    "Customer says it only does it when the dryer runs.",
    "Third time this summer.",
    "Attic at 120 F, could not stay long.",
    "Door of the cabinet was hanging by one screw.",
    "Neighbor has the same unit and no trouble.",
    "Dog in the yard: customer to be called before the next visit.",
    "New paint over the nameplate.",
    "Comes back after rain.",
];

/// The first sentence of a text, for what was done.
pub(super) fn first_sentence(text: &str) -> &str {
    let end = text
        .char_indices()
        .find(|(at, letter)| matches!(letter, '.' | ';') && text[at + 1..].starts_with(' '))
        .map_or(text.len(), |(at, _)| at);
    text[..end].trim_end_matches('.')
}
