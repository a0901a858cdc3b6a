//! Which circuit it is: what the case knows of it, with room for the rest.

use crate::knowledge::model::Place;
use crate::report::CaseResult;

use super::block::{Card, Pair};
use super::figures::fitted;
use super::pieces::led;
use super::subject::Subject;

/// Panel, circuit, disconnect and legs, as far as the case says; the rest is left to be written in.
pub(super) fn card(result: &CaseResult) -> Card {
    let known = |blank: &str, subject| match fitted(result, subject) {
        told if told.is_empty() => blank.to_owned(),
        told => format!("{blank}. As told: {told}"),
    };
    let mut pairs = vec![
        Pair::new("Panel", "where ______, name ______"),
        Pair::new(
            "Circuit",
            known("number ______, poles ____, amps ____", Subject::Breaker),
        ),
        Pair::new(
            "Conductor",
            known("size ______, metal ______", Subject::Conductor),
        ),
        Pair::new(
            "Run",
            "cable or conduit, and its kind ______, length ____, hottest place ____, wires together ____",
        ),
        Pair::new("Disconnect", "where ______, amps ____, fuses ____"),
        Pair::new(
            "Other circuits",
            "to this unit: number ______, amps ____, size ______, ampacity on the plate ____",
        ),
        Pair::new("Left", "on or off ______, locked by ______, on ______"),
        Pair::new(
            "Legs",
            if result.equipment.contains("three-phase") {
                "leg 1 is ______, leg 2 is ______, leg 3 is ______ (place in the panel, or color)"
            } else {
                "leg 1 is ______, leg 2 is ______ (side of the panel, or color)"
            },
        ),
    ];
    if led(result).any(|cause| matches!(cause.place, Place::Panel | Place::Disconnect | Place::Branch)) {
        pairs.push(Pair::new("Bad spot", "line or load side ______, which leg ____"));
    }
    Card {
        title: "The circuit".to_owned(),
        mark: None,
        pairs,
    }
}
