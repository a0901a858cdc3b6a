//! What the supply decides.

use super::super::bench::{Bench, Stage};
use super::super::installation::{Feed, Values};
use super::bounds::{BOARD_RESETS, HOLDS, LABORS, MUST_OPEN};
use super::fitting::{Fitting, read};

pub(super) fn supply_rest(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    // One heater's own circuit is not read at the unit's terminals.
    if values.heat_dead > 0.0 {
        return None;
    }
    let share = read(bench, "voltage-at-unit-rest")? / bench.installation.plate.nameplate_volts;
    let states: &[&str] = if values.same_leg > 0.0 {
        &["same-leg"]
    } else if (values.wrong_volts - 1.0).abs() > 0.05 {
        &["wrong-kind"]
    } else if share < 0.7 {
        if one_hot_lives(bench) {
            &["leg-missing", "missing"]
        } else {
            &["missing"]
        }
    } else if share < 0.9 {
        &["low"]
    } else if share > 1.1 {
        &["high"]
    } else {
        &["right"]
    };
    Some(("supply-rest", states))
}

/// A line at the unit still has voltage to ground.
fn one_hot_lives(bench: &Bench) -> bool {
    let Ok(found) = bench.at(Stage::Rest) else {
        return false;
    };
    (1..=bench.installation.lines()).any(|line| found.volts(&format!("unit_{line}"), "ground") > 80.0)
}

pub(super) fn supply_load(bench: &Bench) -> Option<Fitting> {
    let nominal = bench.installation.plate.nameplate_volts;
    // What is missing at rest has nothing left to lose.
    let rest = read(bench, "voltage-at-unit-rest").filter(|rest| *rest >= 0.5 * nominal)?;
    let running = read(bench, "voltage-at-unit-running")?;
    let start = read(bench, "voltage-at-unit-at-start").unwrap_or(running);
    let states: &[&str] = if running < 0.9 * nominal && rest >= 0.9 * nominal || running < 0.95 * rest {
        &["sag", "swing"]
    } else if start < 0.85 * nominal || start < 0.88 * rest {
        &["dip-at-start", "swing"]
    } else {
        &["hold", "swing"]
    };
    Some(("supply-load", states))
}

pub(super) fn legs(bench: &Bench) -> Option<Fitting> {
    let [one, two] = ["leg-1-voltage", "leg-2-voltage"].map(|test| read(bench, test));
    let [with_one, with_two] = ["leg-1-with-load", "leg-2-with-load"].map(|test| read(bench, test));
    let (one, two, with_one, with_two) = (one?, two?, with_one?, with_two?);
    let values = &bench.installation.values;
    let states: &[&str] = if one < 50.0 || two < 50.0 {
        &["one-dead"]
    } else if with_two > 1.02 * two {
        &["opposite"]
    } else if with_one < 0.97 * one {
        &["one-sags", "together"]
    } else if bench.installation.leg == 2 && values.service_hot > Values::default().service_hot {
        // Found when the load is tried on the other leg.
        &["one-sags", "together"]
    } else {
        &["together"]
    };
    Some(("legs", states))
}

pub(super) fn main_load(bench: &Bench) -> Option<Fitting> {
    let [one, two] = ["main-leg-1-current", "main-leg-2-current"].map(|test| read(bench, test));
    let (one, two) = (one?, two?);
    let main = bench.installation.plate.main;
    let states: &[&str] = if one.max(two) > 0.8 * main {
        &["over"]
    } else if one > 2.0 * two || two > 2.0 * one {
        &["one-sided"]
    } else {
        &["ordinary"]
    };
    Some(("main-load", states))
}

/// Whether the building's own load opens the main; nothing where one main holds it and another does not.
pub(super) fn opens_main(bench: &Bench) -> Option<bool> {
    let legs = ["main-leg-1-current", "main-leg-2-current"];
    let most = legs
        .iter()
        .filter_map(|test| read(bench, test))
        .fold(0.0, f64::max);
    match most / bench.installation.plate.main {
        share if share <= HOLDS => Some(false),
        share if share >= MUST_OPEN => Some(true),
        _ => None,
    }
}

pub(super) fn neutral(bench: &Bench) -> Option<Fitting> {
    let volts = read(bench, "neutral-to-ground-running")?;
    let values = &bench.installation.values;
    let states: &[&str] = if values.reversed > 0.0 && volts > 80.0 {
        &["reversed"]
    } else if values.floating > 0.0 {
        &["floating"]
    } else if volts > 2.0 {
        if values.neutral_shared > 0.0 {
            &["others-lift", "lifted"]
        } else {
            &["lifted", "others-lift"]
        }
    } else {
        &["near-zero"]
    };
    Some(("neutral-volts", states))
}

pub(super) fn phases(bench: &Bench) -> Option<Fitting> {
    if bench.installation.plate.feed != Feed::ThreeLines {
        return None;
    }
    let pairs = ["voltage-phase-ab", "voltage-phase-bc", "voltage-phase-ca"];
    let volts: Vec<f64> = pairs.iter().filter_map(|test| read(bench, test)).collect();
    let mean = volts.iter().sum::<f64>() / 3.0;
    let off = volts.iter().map(|volts| (volts - mean).abs()).fold(0.0, f64::max) / mean.max(1.0);
    let lowest = volts.iter().copied().fold(f64::INFINITY, f64::min);
    let states: &[&str] = if lowest < 0.8 * bench.installation.plate.nameplate_volts {
        &["missing"]
    } else if off > 0.02 {
        &["uneven"]
    } else if bench.installation.values.reversed > 0.0 {
        &["reversed"]
    } else {
        &["equal", "wrong"]
    };
    Some(("phases", states))
}

pub(super) fn phase_lost_at(bench: &Bench) -> Option<Fitting> {
    if bench.installation.plate.feed != Feed::ThreeLines {
        return None;
    }
    let rest = bench.at(Stage::Rest).ok()?;
    let least = |place: &str| {
        let pair =
            |(from, to): &(usize, usize)| rest.volts(&format!("{place}_{from}"), &format!("{place}_{to}"));
        bench.pairs().iter().map(pair).fold(f64::INFINITY, f64::min) / bench.installation.plate.volts
    };
    let states: &[&str] = if least("meter") < 0.8 {
        &["before-meter"]
    } else if least("end") < 0.8 {
        &["main-or-panel"]
    } else if least("unit") < 0.8 {
        &["fuse"]
    } else if read(bench, "contactor-pole-drop").is_some_and(|volts| volts > 50.0) {
        &["contactor"]
    } else {
        &["not-lost"]
    };
    Some(("phase-lost-at", states))
}

/// A start or the run takes the voltage so low that a board starts over or an inverter stops.
pub(super) fn dips(bench: &Bench) -> bool {
    let control = [Stage::Starting, Stage::Running].into_iter().any(|stage| {
        let transformer = bench.installation.plate.transformer > 0.0;
        transformer
            && bench
                .at(stage)
                .is_ok_and(|found| found.volts("r", "c") < BOARD_RESETS)
    });
    let nominal = bench.installation.plate.nameplate_volts;
    let low = |test| read(bench, test).is_some_and(|volts| volts < LABORS * nominal);
    let high = |test| read(bench, test).is_some_and(|volts| volts > 1.1 * nominal);
    let electronics =
        bench.installation.plate.has("inverter") || bench.installation.plate.has("control-board");
    let source = bench.installation.values.hertz != Values::default().hertz;
    control || low("voltage-at-unit-at-start") || electronics && (source || high("voltage-at-unit-rest"))
}
