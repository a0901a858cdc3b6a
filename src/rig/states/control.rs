//! What contactor and control circuit decide.

use super::super::bench::{Bench, Stage};
use super::super::installation::Call;
use super::bounds::{
    CHATTERS_UNDER, CONTACT_OPEN, CONTACT_PITTED, CONTROL_LOADED, CONTROL_NONE, CONTROL_REST,
};
use super::fitting::{Fitting, read};

pub(super) fn contacts(bench: &Bench) -> Option<Fitting> {
    if bench.installation.values.contact_welded > 0.0 {
        return Some(("contacts", &["welded"]));
    }
    let volts = read(bench, "contactor-pole-drop")?;
    let states: &[&str] = if volts > CONTACT_OPEN {
        &["one-pole", "insects"]
    } else if volts > CONTACT_PITTED {
        &["pitted", "insects"]
    } else {
        &["good"]
    };
    Some(("contacts", states))
}

fn has_coil(bench: &Bench) -> bool {
    let plate = &bench.installation.plate;
    plate.has("contactor") && plate.transformer > 0.0 && bench.mode == Call::Cooling
}

pub(super) fn coil(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    let volts = read(bench, "coil-voltage-called").filter(|_| has_coil(bench))?;
    let states: &[&str] = if values.coil_open > 0.0 {
        &["open"]
    } else if values.coil_turns < 0.9 {
        &["shorted"]
    } else if (CONTROL_NONE..CHATTERS_UNDER).contains(&volts) {
        &["weak-volts"]
    } else {
        &["good"]
    };
    Some(("contactor-coil", states))
}

pub(super) fn called(bench: &Bench) -> Option<Fitting> {
    let volts = read(bench, "coil-voltage-called").filter(|_| has_coil(bench))?;
    let found = bench.at(Stage::Running).ok()?;
    let states: &[&str] = if bench.installation.values.contact_welded > 0.0 {
        &["stuck-in"]
    } else if found.chatters {
        &["half-in"]
    } else if found.now.pulled_in {
        &["pulls-in", "half-in"]
    } else if volts < CONTROL_NONE {
        &["no-volts"]
    } else {
        &["volts-no-pull", "half-in"]
    };
    Some(("coil-called", states))
}

pub(super) fn armature(bench: &Bench) -> Option<Fitting> {
    let blocked = bench.installation.values.armature > 0.0;
    blocked.then_some(("armature", &["blocked"][..]))
}

/// A contactor that cannot decide is heard.
pub(super) fn sound(bench: &Bench) -> Option<Fitting> {
    let found = bench.at(Stage::Running).ok().filter(|_| has_coil(bench))?;
    found
        .chatters
        .then_some(("contactor-sound", &["hammers", "buzzes"][..]))
}

pub(super) fn control(bench: &Bench) -> Option<Fitting> {
    if bench.installation.plate.transformer == 0.0 {
        return Some(("control-volts", &["none-used"]));
    }
    let rest = read(bench, "control-voltage-unloaded")?;
    let loaded = read(bench, "control-voltage-loaded").unwrap_or(rest);
    let states: &[&str] = if rest < CONTROL_NONE || loaded < CONTROL_NONE {
        &["gone", "comes-and-goes"]
    } else if rest > CONTROL_REST.1 || loaded > CONTROL_LOADED.1 {
        &["high"]
    } else if rest < CONTROL_REST.0 || loaded < CONTROL_LOADED.0 {
        &["sags"]
    } else {
        &["good", "comes-and-goes", "sags"]
    };
    Some(("control-volts", states))
}

/// Only what the transformer and its fuse decide: which device of the loop is open is no matter of impedance.
pub(super) fn control_lost_at(bench: &Bench) -> Option<Fitting> {
    if bench.installation.plate.transformer == 0.0 {
        return None;
    }
    let rest = bench.at(Stage::Rest).ok()?;
    let fuse = |stage| bench.at(stage).is_ok_and(|at| at.now.control_fuse);
    let volts = bench.installation.indoor_ends();
    if bench.installation.values.transformer_open > 0.0 {
        Some(("control-lost-at", &["transformer"]))
    } else if rest.volts(volts[0], volts[1]) < 40.0 {
        Some(("control-lost-at", &["no-line-in"]))
    } else if fuse(Stage::Rest) || fuse(Stage::Running) {
        Some(("control-lost-at", &["fuse"]))
    } else {
        None
    }
}
