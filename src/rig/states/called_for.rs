//! What the customer calls for: which complaints the physics of a fault brings, and which it rules out.

use super::super::bench::{Because, Bench, Stage};
use super::super::case::Site;
use super::super::course::{Course, Trouble};
use super::super::faults::When;
use super::super::installation::{Call, Values};
use super::fitting::{Fitting, read};
use super::told::{Lamps, lamps, leaks, stands};
use super::{ground, supply};

/// Volts at the coil between which a contactor is neither in nor out, or buzzes: 56 and 85 % of 24 V.
const BUZZES: (f64, f64) = (13.4, 20.4);

/// Values whose change makes a motor hard to start.
const HARD: f64 = 1.3;

/// Whether a complaint can be about this fault: it brings it, it does not, or physics does not decide it.
pub(super) fn brings(site: &Site, course: &Course, complaint: &str) -> Option<bool> {
    if site.fault.changes.is_empty() {
        return None;
    }
    let bench = &site.bench;
    let values = &bench.installation.values;
    let plate = &bench.installation.plate;
    let troubles = [course.hard.trouble(), course.mild.trouble()];
    let any = |wanted: &dyn Fn(Trouble) -> bool| troubles.into_iter().any(wanted);
    let trips = any(&|trouble| matches!(trouble, Trouble::Trips(_) | Trouble::TripsAtRest));
    let control_fuse =
        any(&|trouble| matches!(trouble, Trouble::ControlFuse(_))) || values.control_fuse > 0.0;
    let protector = any(&|trouble| matches!(trouble, Trouble::Protector(..)));
    let chatters = any(&|trouble| trouble == Trouble::Chatters);
    Some(match complaint {
        "breaker-opens" => trips,
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
            protector || stands(site) || values.stiff > HARD || values.capacity < 0.9 || slow_start(bench)
        }
        "control-power-lost" => control_fuse || control_gone(bench),
        "display-blank" => control_fuse || control_gone(bench) || trips || indoor_dead(bench),
        "contactor-chatters" => {
            chatters
                || values.armature > 0.0
                || read(bench, "coil-voltage-called")
                    .is_some_and(|volts| volts > BUZZES.0 && volts < BUZZES.1)
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
        }
        _ => return None,
    })
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
    insulation.into_iter().any(|ohms| ohms < 3e4)
}

fn control_gone(bench: &Bench) -> bool {
    let low = |test| read(bench, test).is_some_and(|volts| volts < 18.0);
    bench.installation.plate.transformer > 0.0
        && (low("control-voltage-unloaded") || low("control-voltage-loaded"))
}

fn indoor_dead(bench: &Bench) -> bool {
    let [from, to] = bench.installation.indoor_ends();
    bench
        .at(Stage::Running)
        .is_ok_and(|found| found.volts(from, to) < 90.0)
}

/// The start of the compressor takes the voltage at the unit so low that it labors.
fn slow_start(bench: &Bench) -> bool {
    let nominal = bench.installation.plate.nameplate_volts;
    matches!(bench.at(Stage::Running), Err(Because::Trips))
        || read(bench, "voltage-at-unit-at-start").is_some_and(|volts| volts < 0.82 * nominal)
}

fn changed(values: &Values, keys: &[&str]) -> bool {
    let sound = Values::default();
    keys.iter().any(|key| values.get(key) != sound.get(key))
}

fn control_changed(values: &Values) -> bool {
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
