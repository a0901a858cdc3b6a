//! What the fault leaves as it should be: states that another fault would bring, and this one cannot.
//!
//! Sampled from what is usual among all callbacks they would be a second fault. A cause that states the effect itself
//! keeps its own.

use super::super::bench::Stage;
use super::super::case::Site;
use super::super::course::{Course, Trouble};
use super::super::installation::Values;
use super::bounds::CONTROL_LOADED;
use super::called_for::{control_changed, flame_may_fail};
use super::fitting::{Fitting, read};
use super::{ground, supply};

/// Every effect of which this fault rules states out, with those that are left.
pub(super) fn all(site: &Site, course: &Course) -> Vec<Fitting> {
    if site.fault.changes.is_empty() {
        return Vec::new();
    }
    let found = [
        Some(("nothing-wrong", &["something"][..])),
        code(site, course),
        shock(site),
        fan(site),
        blower(site),
        good_capacitor(site),
        heat(site),
    ];
    found.into_iter().flatten().collect()
}

/// A control keeps a code of what it watches: supply, 24 V, pressures, flame.
fn code(site: &Site, course: &Course) -> Option<Fitting> {
    let bench = &site.bench;
    let values = &bench.installation.values;
    let sound = Values::default();
    let low_control = bench.installation.plate.transformer > 0.0
        && ["control-voltage-loaded", "control-voltage-unloaded"]
            .iter()
            .any(|test| read(bench, test).is_some_and(|volts| volts < CONTROL_LOADED.0));
    let states: &[&str] = if flame_may_fail(bench) || values.call_lost + values.protector > 0.0 {
        return None;
    } else if matches!(course.hard.trouble(), Trouble::Protector(..)) || values.head != sound.head {
        &["none", "refrigerant", "limit"]
    } else if low_control {
        &["none", "low-volts"]
    } else if supply::dips(bench) {
        &["none", "supply", "low-volts"]
    } else if values.blower_load != sound.blower_load
        || values.blower_open + values.blower_locked > 0.0
        || values.board_contact != sound.board_contact
    {
        &["none", "limit", "refrigerant"]
    } else {
        &["none"]
    };
    Some(("code", states))
}

/// Where no volts come onto the metal, nobody feels any.
fn shock(site: &Site) -> Option<Fitting> {
    let (_, volts) = ground::metal_volts(&site.bench)?;
    let (_, path) = ground::ground_path(&site.bench)?;
    (volts.first() == Some(&"none") && path.first() == Some(&"whole")).then_some(("shock", &["nothing"][..]))
}

/// A fan of which nothing is changed turns as it should while it is fed.
fn fan(site: &Site) -> Option<Fitting> {
    let bench = &site.bench;
    let (values, sound) = (&bench.installation.values, Values::default());
    let own = values.fan_load != sound.fan_load
        || values.fan_open + values.fan_locked > 0.0
        || values.fan_leak != sound.fan_leak;
    let rating = bench.installation.plate.fan;
    let amps = read(bench, "outdoor-fan-current")?;
    (!own && rating > 0.0 && amps > 0.5 * rating).then_some(("outdoor-fan-turns", &["right"][..]))
}

/// The same of the blower.
fn blower(site: &Site) -> Option<Fitting> {
    let bench = &site.bench;
    let (values, sound) = (&bench.installation.values, Values::default());
    let own = values.blower_load != sound.blower_load
        || values.blower_open + values.blower_locked > 0.0
        || values.blower_leak != sound.blower_leak
        || values.board_contact != sound.board_contact;
    let rating = bench.installation.plate.blower;
    let amps = read(bench, "blower-current")?;
    (!own && rating > 0.0 && amps > 0.5 * rating).then_some(("blower-turns", &["right", "always"][..]))
}

/// Heat that stays on needs a contact that does not open, an element that draws past it, or a call.
fn heat(site: &Site) -> Option<Fitting> {
    let (values, sound) = (&site.bench.installation.values, Values::default());
    let opens = values.heat_stuck + values.contact_welded == 0.0 && values.heat_leak == sound.heat_leak;
    let states = &["right", "one-cold", "all-cold", "together", "comes-and-goes"];
    (opens && !control_changed(values)).then_some(("heat-stages", &states[..]))
}

/// A known-good capacitor helps where the capacitor was what it lacked, tells nothing where the motor starts by itself or gets nothing.
fn good_capacitor(site: &Site) -> Option<Fitting> {
    let bench = &site.bench;
    bench.installation.motor?;
    let values = &bench.installation.values;
    let found = bench.at(Stage::Running).ok()?;
    let states: &[&str] = if found.turns || !found.now.protector {
        &["not-telling"]
    } else if values.capacity < 1.0 || values.capacitor_short > 0.0 {
        &["starts"]
    } else {
        &["still-hums"]
    };
    Some(("good-capacitor-try", states))
}
