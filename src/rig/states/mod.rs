//! What physics says of the effects of the knowledge: which states of an effect fit what the installation does.
//!
//! An effect is here only where the installation decides it. Where it does not (what was changed, what is heard, what comes now and
//! then) the state stays as it was drawn from the cause. Sound readings leave the states that a fault which comes and goes may be in.

mod control;
mod fitting;
mod ground;
mod load;
mod path;
mod supply;

pub use fitting::Fitting;

use super::bench::Bench;

/// Every effect the installation decides.
#[must_use]
pub fn fitting(bench: &Bench) -> Vec<Fitting> {
    let volts = [
        supply::supply_rest(bench),
        supply::supply_load(bench),
        supply::legs(bench),
        supply::main_load(bench),
        supply::neutral(bench),
    ];
    let way = [
        path::lost_at(bench),
        path::joint_drop(bench),
        path::heat_at(bench),
        supply::phases(bench),
        supply::phase_lost_at(bench),
    ];
    let unit = [
        load::running_amps(bench),
        load::amps_at_device(bench),
        load::leak(bench),
        load::capacitor(bench),
        load::windings(bench),
    ];
    let switching = [
        control::contacts(bench),
        control::coil(bench),
        control::called(bench),
        control::sound(bench),
        load::start(bench),
    ];
    let rest = [
        load::fan(bench),
        load::blower(bench),
        control::control(bench),
        control::control_lost_at(bench),
        control::opened(bench),
    ];
    let metal = [
        ground::ground_path(bench),
        ground::metal_volts(bench),
        load::dead(bench),
        control::armature(bench),
    ];
    let groups: [&[Option<Fitting>]; 6] = [&volts, &way, &unit, &switching, &rest, &metal];
    groups.into_iter().flatten().copied().flatten().collect()
}
