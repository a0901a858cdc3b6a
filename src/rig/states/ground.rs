//! What the grounding decides.

use super::super::bench::{Bench, Stage};
use super::bounds::{COLLAPSES, FELT, LIVE};
use super::fitting::{Fitting, read};

pub(super) fn ground_path(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    let states: &[&str] = if values.ground_wire > 1e3 {
        &["absent"]
    } else if values.ground_wire > 0.5 {
        &["poor"]
    } else if values.neutral_bond < 10.0 {
        &["on-neutral"]
    } else if read(bench, "ground-wire-amps").is_some_and(|amps| amps > 0.5) {
        &["current-on-it"]
    } else {
        &["whole"]
    };
    Some(("ground-path", states))
}

pub(super) fn metal_volts(bench: &Bench) -> Option<Fitting> {
    let off = read(bench, "metal-volts-breaker-off")?;
    let running = read(bench, "metal-volts-running").unwrap_or(off);
    let unloaded = bench
        .at(Stage::Running)
        .map_or(running, |found| found.volts("cabinet", "0"));
    let states: &[&str] = if unloaded > FELT && running < COLLAPSES * unloaded {
        &["faint", "wet"]
    } else if off > FELT {
        &["stays-unit-off"]
    } else if running > LIVE {
        &["live-running", "always"]
    } else if running > FELT {
        &["faint", "wet", "live-running"]
    } else {
        &["none", "wet"]
    };
    Some(("metal-volts", states))
}
