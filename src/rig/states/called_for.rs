//! What the customer calls for: which complaints the physics of a fault brings, and which it rules out.

use super::super::bench::{Because, Bench, Stage};
use super::super::case::Site;
use super::super::clock::SMALLEST;
use super::super::course::{Course, Trouble};
use super::super::faults::When;
use super::super::installation::{Call, Feed, LETS_GO, Values};
use super::super::plates;
use super::bounds::{
    CHATTERS_UNDER, CONTROL_GONE, HARD_START, HEAD, INDOOR_GONE, LABORS, LEAK_HARD, WEAK_CAPACITOR,
    WEAK_FLAME,
};
use super::fitting::{Fitting, read};
use super::told::{Lamps, lamps, leaks, stands};
use super::{ground, supply};

/// Whether a complaint can be about this fault: it brings it, it does not, or physics does not decide it.
pub(super) fn brings(site: &Site, course: &Course, complaint: &str) -> Option<bool> {
    if site.fault.changes.is_empty() {
        return None;
    }
    // The thinnest conductor of a circuit carries the smallest breaker: it is too thin for nobody there.
    if plates::is_thin(&site.fault) && site.bench.installation.plate.device <= SMALLEST {
        return Some(false);
    }
    let bench = &site.bench;
    let values = &bench.installation.values;
    let plate = &bench.installation.plate;
    // Between two lines a high leg stands at 240 V like the others: only a part made for 120 V feels it.
    if values.high_leg > 0.0 && !plate.indoor_neutral && plate.feed != Feed::HotAndNeutral {
        return Some(false);
    }
    let troubles = [course.hard.trouble(), course.mild.trouble()];
    let any = |wanted: &dyn Fn(Trouble) -> bool| troubles.into_iter().any(wanted);
    let trips = any(&|trouble| matches!(trouble, Trouble::Trips(_) | Trouble::TripsAtRest));
    let control_fuse =
        any(&|trouble| matches!(trouble, Trouble::ControlFuse(_))) || values.control_fuse > 0.0;
    let protector = any(&|trouble| matches!(trouble, Trouble::Protector(..) | Trouble::Fan(_)));
    let chatters = any(&|trouble| trouble == Trouble::Chatters);
    Some(match complaint {
        "breaker-opens" => trips || supply::opens_main(bench)?,
        "ground-fault-device-opens" => leaks(bench) || trips && leaks_hard(bench),
        "does-not-run" => {
            trips
                || control_fuse
                || protector
                || stands(site)
                || values.contact_welded + values.heat_stuck > 0.0
                || values.heat_dead > 0.0
        }
        "motor-will-not-start" => {
            protector
                || stands(site)
                || values.stiff > HARD_START
                || values.capacity < WEAK_CAPACITOR
                || slow_start(bench)
        }
        "control-power-lost" => control_fuse || control_gone(bench),
        "display-blank" => {
            control_fuse || control_gone(bench) || trips || indoor_dead(bench) || values.thermostat_dead > 0.0
        }
        "contactor-chatters" => {
            chatters
                || values.armature > 0.0
                || read(bench, "coil-voltage-called")
                    .is_some_and(|volts| volts > LETS_GO && volts < CHATTERS_UNDER)
                || site.fault.when == When::Shaken && control_changed(values)
        }
        "lights-dim" => lamps(site).is_none_or(|lamps| !matches!(lamps, Lamps::Steady | Lamps::Doubtful)),
        "part-burnt" if joint_changed(values) => course.hard.discolors() || course.mild.discolors(),
        "shock-or-hot-metal" => {
            let quiet = |fitting: Option<Fitting>, sound: &str| {
                fitting.is_none_or(|(_, states)| states.first() == Some(&sound))
            };
            !quiet(ground::metal_volts(bench), "none") || !quiet(ground::ground_path(bench), "whole")
        }
        "phase-lost-or-unbalanced" => {
            supply::phases(bench).is_some_and(|(_, states)| states.first() != Some(&"equal"))
        }
        "weak-cooling-or-heating" if bench.mode == Call::Cooling && plate.rated_load > 0.0 => {
            !(trips && troubles[1] == Trouble::TripsAtRest)
                && (protector || stands(site) || air_or_load(values) || returns(site))
        }
        "equipment-resets" => {
            protector || chatters || stops_and_locks_out(bench) || supply::dips(bench) || returns(site)
        }
        // Trouble since a change, or on a source of its own, is some trouble.
        "since-a-change" | "on-generator" => felt(site, course),
        "electric-heat" => heat_changed(values) || felt(site, course),
        "flame-lost" => {
            flame_may_fail(bench)
                || control_gone(bench)
                || indoor_dead(bench)
                || trips
                || control_changed(values)
                || values.blower_open + values.blower_locked + values.protector > 0.0
                || returns(site)
        }
        _ => return None,
    })
}

/// Whether there is any trouble that physics decides.
fn felt(site: &Site, course: &Course) -> bool {
    let troubles = [
        "breaker-opens",
        "ground-fault-device-opens",
        "does-not-run",
        "motor-will-not-start",
        "control-power-lost",
        "contactor-chatters",
        "equipment-resets",
        "lights-dim",
        "shock-or-hot-metal",
        "phase-lost-or-unbalanced",
        "weak-cooling-or-heating",
    ];
    let brought = |complaint: &&str| brings(site, course, complaint) == Some(true);
    troubles.iter().any(brought) || course.hard.discolors() || heat_changed(&site.bench.installation.values)
}

fn heat_changed(values: &Values) -> bool {
    changed(
        values,
        &[
            "heat-dead",
            "heat-stuck",
            "heat-power",
            "heat-leak",
            "heat-terminal",
            "heat-with-cooling",
        ],
    )
}

/// A short so hard that no leak can be read.
fn leaks_hard(bench: &Bench) -> bool {
    let values = &bench.installation.values;
    let insulation = [
        values.branch_leak,
        values.winding_leak,
        values.fan_leak,
        values.blower_leak,
        values.heat_leak,
        values.crankcase_leak,
        values.other_leak,
    ];
    insulation.into_iter().any(|ohms| ohms < LEAK_HARD)
}

fn control_gone(bench: &Bench) -> bool {
    let low = |test| read(bench, test).is_some_and(|volts| volts < CONTROL_GONE);
    bench.installation.plate.transformer > 0.0
        && (low("control-voltage-unloaded") || low("control-voltage-loaded"))
}

fn indoor_dead(bench: &Bench) -> bool {
    let [from, to] = bench.installation.indoor_ends();
    bench
        .at(Stage::Running)
        .is_ok_and(|found| found.volts(from, to) < INDOOR_GONE)
}

/// The start of the compressor takes the voltage at the unit so low that it labors.
fn slow_start(bench: &Bench) -> bool {
    let nominal = bench.installation.plate.nameplate_volts;
    matches!(bench.at(Stage::Running), Err(Because::Trips))
        || read(bench, "voltage-at-unit-at-start").is_some_and(|volts| volts < LABORS * nominal)
}

/// What comes and goes, and stops something while it is there.
fn returns(site: &Site) -> bool {
    let bench = &site.bench;
    site.fault.when != When::Always
        && (stands(site)
            || control_gone(bench)
            || indoor_dead(bench)
            || supply::dips(bench)
            || control_changed(&bench.installation.values))
}

/// What the load of compressor, fan or blower is other than it should be: it runs, and gives less.
fn air_or_load(values: &Values) -> bool {
    let sound = Values::default();
    let fans = values.fan_load != sound.fan_load
        || values.blower_load != sound.blower_load
        || values.fan_open + values.fan_locked + values.blower_open + values.blower_locked > 0.0;
    values.head < HEAD.0 || values.head > HEAD.1 || fans || values.heat_with_cooling > 0.0
}

/// Where a safety or a control that watches the load or the flame stops it, to return by itself or after a lock-out.
fn stops_and_locks_out(bench: &Bench) -> bool {
    let values = &bench.installation.values;
    values.call_lost + values.protector > 0.0 || air_or_load(values) || flame_may_fail(bench)
}

/// The signal of the flame, or the ground and polarity it needs, is not as it should be.
pub(super) fn flame_may_fail(bench: &Bench) -> bool {
    let values = &bench.installation.values;
    let sound = Values::default();
    let burner = ["flame-sensor", "oil-burner", "pilot"]
        .iter()
        .any(|part| bench.installation.plate.has(part));
    let poor = values.flame < WEAK_FLAME
        || values.eye > sound.eye
        || values.thermocouple < sound.thermocouple
        || values.reversed + values.floating > 0.0
        || values.ground_wire > sound.ground_wire
        || values.neutral_bond < sound.neutral_bond
        || values.neutral_shared > 0.0;
    burner && poor
}

fn changed(values: &Values, keys: &[&str]) -> bool {
    let sound = Values::default();
    keys.iter().any(|key| values.get(key) != sound.get(key))
}

pub(super) fn control_changed(values: &Values) -> bool {
    changed(
        values,
        &[
            "control-splice",
            "control-cable",
            "r-or-c",
            "control-short",
            "call-lost",
            "coil-open",
            "coil-turns",
        ],
    )
}

fn joint_changed(values: &Values) -> bool {
    changed(
        values,
        &[
            "stab",
            "breaker-terminal",
            "main-pole",
            "service-hot",
            "splice",
            "disconnect-lug",
            "disconnect-jaw",
            "receptacle",
            "unit-terminal",
            "contact",
            "compressor-terminal",
            "heat-terminal",
            "board-contact",
        ],
    )
}
