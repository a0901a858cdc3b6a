//! What the loads decide.

use super::super::bench::{Because, Bench, Stage};
use super::super::installation::Call;
use super::bounds::CLASS_A;
use super::fitting::{Fitting, read};

/// Running current of the unit by its plate, A, in the mode it runs in.
fn plate_amps(bench: &Bench) -> f64 {
    let plate = &bench.installation.plate;
    let indoor = bench.installation.has_indoor_circuit();
    let own = if indoor { 0.0 } else { plate.blower + plate.draft };
    let heat = if indoor {
        0.0
    } else {
        plate.heater / plate.heater_volts
    };
    match bench.mode {
        Call::Heat => heat + own,
        _ => plate.rated_load + plate.fan + own,
    }
}

pub(super) fn running_amps(bench: &Bench) -> Option<Fitting> {
    let plate = plate_amps(bench);
    if plate < 1.0 {
        return None;
    }
    let share = read(bench, "unit-current-running")? / plate;
    let states: &[&str] = if share > 1.1 {
        &["above"]
    } else if share < 0.1 {
        &["none"]
    } else if share < 0.55 {
        &["below", "normal"]
    } else {
        &["normal"]
    };
    Some(("running-amps", states))
}

pub(super) fn amps_at_device(bench: &Bench) -> Option<Fitting> {
    let rating = bench.installation.rating();
    let share = read(bench, "current-at-breaker")? / rating;
    let states: &[&str] = if share > 1.0 {
        &["above"]
    } else if share > 0.8 {
        &["near"]
    } else {
        &["well-below"]
    };
    Some(("amps-at-device", states))
}

pub(super) fn leak(bench: &Bench) -> Option<Fitting> {
    // Amps of another circuit in the clamp are no leak.
    if bench.installation.values.neutral_shared > 0.0 {
        return None;
    }
    let amps = read(bench, "gfci-leakage")?;
    let trips = bench
        .at(Stage::Running)
        .is_err_and(|because| because == Because::Trips);
    let wet_or_loose: &[&str] = &["none", "low-when-wet", "comes-and-goes"];
    let states: &[&str] = if amps > 2.0 && trips {
        &["dead-short"]
    } else if amps > 0.01 {
        &["low", "low-when-wet", "comes-and-goes", "dead-short"]
    } else if amps > CLASS_A {
        &["class-a", "low-when-wet", "comes-and-goes"]
    } else {
        wet_or_loose
    };
    Some(("leak", states))
}

pub(super) fn capacitor(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    if bench.installation.plate.microfarad == 0.0 {
        return None;
    }
    let states: &[&str] = if values.capacitor_short > 0.0 {
        &["shorted"]
    } else if values.capacity < 0.2 {
        &["open"]
    } else if values.capacity < 0.94 {
        &["weak"]
    } else if values.capacity > 1.06 {
        &["wrong-value"]
    } else {
        &["good", "blower-weak"]
    };
    Some(("capacitor", states))
}

pub(super) fn windings(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    bench.installation.motor?;
    let states: &[&str] = if values.winding_open > 0.0 {
        &["open-cool"]
    } else if values.winding_leak < 5e5 {
        &["to-ground"]
    } else if values.turns < 1.0 {
        &["shorted-turns"]
    } else {
        &["good", "open-hot"]
    };
    Some(("compressor-windings", states))
}

pub(super) fn start(bench: &Bench) -> Option<Fitting> {
    let found = bench.at(Stage::Running).ok()?;
    if bench.installation.motor.is_none() || bench.mode != Call::Cooling {
        return None;
    }
    let states: &[&str] = if found.turns {
        &["starts", "hard", "stops-hot"]
    } else if found.now.protector {
        &["never-turns", "hard", "stops-hot"]
    } else {
        &["not-fed", "never-turns", "stops-hot"]
    };
    Some(("compressor-start", states))
}

pub(super) fn fan(bench: &Bench) -> Option<Fitting> {
    let amps = read(bench, "outdoor-fan-current")?;
    let found = bench.at(Stage::Running).ok()?;
    let plate = &bench.installation.plate;
    let fed = !plate.has("contactor") || found.now.pulled_in;
    if plate.fan == 0.0 || !fed || bench.mode != Call::Cooling {
        return None;
    }
    let states: &[&str] = if amps < 0.1 {
        &["stopped", "stops-hot"]
    } else if amps > 1.1 * plate.fan {
        &["slow", "wrong-way", "hits-ice", "stops-hot", "stopped"]
    } else {
        return None;
    };
    Some(("outdoor-fan-turns", states))
}

pub(super) fn blower(bench: &Bench) -> Option<Fitting> {
    let plate = bench.installation.plate.blower;
    let amps = read(bench, "blower-current")?;
    let states: &[&str] = if plate == 0.0 {
        return None;
    } else if amps < 0.05 * plate {
        &["dead", "stops-hot"]
    } else if amps > 1.1 * plate {
        &["too-fast", "slow", "stops-hot", "dead"]
    } else {
        return None;
    };
    Some(("blower-turns", states))
}

/// What stays dead, where the compressor's side decides it.
pub(super) fn dead(bench: &Bench) -> Option<Fitting> {
    let found = bench.at(Stage::Running).ok()?;
    if bench.mode != Call::Cooling || bench.installation.plate.rated_load == 0.0 || found.turns {
        return None;
    }
    let split = bench.installation.has_indoor_circuit();
    Some((
        "dead",
        if found.now.protector {
            &["compressor", "all-runs"]
        } else if split {
            &[
                "outdoor-unit",
                "compressor",
                "control-alive-only",
                "nothing-at-all",
            ]
        } else {
            &[
                "compressor",
                "nothing-at-all",
                "control-alive-only",
                "outdoor-unit",
            ]
        },
    ))
}
