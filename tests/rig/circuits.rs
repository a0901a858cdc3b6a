//! Circuits for comparison with SPICE: small split-phase and three-phase installations, healthy and each with one fault.

mod house;
mod rooftop;

use lineside::rig::bench::{Bench, Stage};
use lineside::rig::installation::{Call, Installation, Plate};
use lineside::rig::{Circuit, Complex, faults};

use house::houses;
use rooftop::rooftops;

fn ohms(re: f64, im: f64) -> Complex {
    Complex::new(re, im)
}

/// Parts of some equipment, as the knowledge lists them.
pub(crate) const SPLIT: &str = "disconnect contactor compressor single-phase-compressor outdoor-fan run-capacitor blower \
    thermostat control-transformer control-board outdoor-control-cable condensate-drain";
pub(crate) const AIR_HANDLER: &str =
    "disconnect blower electric-heat thermostat control-transformer control-board condensate-drain";
pub(crate) const PACKAGE: &str = "disconnect contactor compressor single-phase-compressor outdoor-fan run-capacitor crankcase-heater blower \
    electric-heat thermostat control-transformer control-board condensate-drain reversing-valve";
const ROOFTOP: &str = "disconnect contactor compressor outdoor-fan run-capacitor crankcase-heater blower burner gas-valve \
    inducer igniter flame-sensor thermostat control-transformer control-board condensate-drain three-phase";
const FURNACE: &str = "circuit-neutral burner gas-valve blower inducer igniter flame-sensor door-switch thermostat \
    control-transformer control-board condensate-drain";
const MINI_SPLIT: &str =
    "disconnect compressor outdoor-fan inverter interconnect-cable blower control-board condensate-drain";

/// Whole installations, each with one cause of the knowledge at half its severity, in one state: name, parts, cause, call, state.
/// Of a cause that can look more than one way the first is taken, or the one whose place from 0 stands behind a slash.
const FAULTED: [(&str, &str, &str, Call, Stage); 30] = [
    (
        "package_sound",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_sound_starting",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "package_sound_heat",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Heat,
        Stage::Running,
    ),
    (
        "package_sound_rest",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "package_service_neutral",
        PACKAGE,
        "open-or-loose-service-neutral",
        Call::Cooling,
        Stage::TestLoad,
    ),
    (
        "package_service_hot",
        PACKAGE,
        "loose-service-hot-leg",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_bus_stab",
        PACKAGE,
        "loose-breaker-to-bus-stab",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_pole_open",
        PACKAGE,
        "breaker-pole-open",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "package_disconnect_lug",
        PACKAGE,
        "loose-disconnect-lug",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_pull_out",
        PACKAGE,
        "burnt-disconnect-pullout",
        Call::Heat,
        Stage::Running,
    ),
    (
        "package_contactor",
        PACKAGE,
        "pitted-contactor",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_capacitor",
        PACKAGE,
        "failed-run-capacitor",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "package_turns",
        PACKAGE,
        "shorted-compressor-turns",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_winding_to_ground",
        PACKAGE,
        "grounded-compressor-winding",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_no_ground",
        PACKAGE,
        "missing-equipment-ground",
        Call::Cooling,
        Stage::Off,
    ),
    (
        "package_head",
        PACKAGE,
        "dirty-condenser-high-head",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_coil",
        PACKAGE,
        "contactor-coil-shorted",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_transformer",
        PACKAGE,
        "transformer-overloaded",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_generator",
        PACKAGE,
        "generator-too-small-for-start",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "rooftop_sound",
        ROOFTOP,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "rooftop_lost_phase",
        ROOFTOP,
        "lost-phase-from-utility",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "rooftop_unbalanced",
        ROOFTOP,
        "three-phase-voltage-unbalance",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "rooftop_fuse",
        ROOFTOP,
        "wrong-fuse-or-loose-fuse-clip/1",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "rooftop_pole",
        ROOFTOP,
        "pitted-contactor/1",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "rooftop_reversed",
        ROOFTOP,
        "reversed-phase-rotation",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "furnace_sound",
        FURNACE,
        "no-fault-found-circuit-right",
        Call::Heat,
        Stage::Running,
    ),
    (
        "furnace_neutral",
        FURNACE,
        "loose-branch-neutral",
        Call::Heat,
        Stage::Running,
    ),
    (
        "furnace_reversed",
        FURNACE,
        "reversed-line-polarity",
        Call::Heat,
        Stage::Running,
    ),
    (
        "mini_split_sound",
        MINI_SPLIT,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "mini_split_low_volts",
        MINI_SPLIT,
        "low-utility-voltage",
        Call::Cooling,
        Stage::Running,
    ),
];

fn faulted(parts: &str, cause: &str, call: Call, stage: Stage) -> Circuit {
    let parts: Vec<String> = parts.split_whitespace().map(str::to_owned).collect();
    let sound = Installation::sound(Plate::of(&parts, &|_| None));
    let (cause, way) = cause.split_once('/').unwrap_or((cause, "0"));
    let way: usize = way.parse().expect("a way is a number");
    let installation = match faults::of(cause) {
        Some(faults::Model::Changes(ways)) => sound.with(&ways[way], 0.5, 1),
        _ => sound,
    };
    let found = Bench::new(installation, call).at(stage);
    found
        .unwrap_or_else(|because| panic!("{cause}: {because:?}"))
        .circuit
        .clone()
}

/// Every circuit, by the name of its netlist.
pub(crate) fn all() -> Vec<(String, Circuit)> {
    let split = houses().into_iter().map(|(name, _)| name);
    let three = rooftops().into_iter().map(|(name, _)| name);
    let whole = FAULTED.into_iter().map(|(name, ..)| name);
    split
        .chain(three)
        .chain(whole)
        .filter_map(|name| Some((name.to_owned(), named(name)?)))
        .collect()
}

/// One circuit by the name of its netlist; only this one is made.
pub(crate) fn named(name: &str) -> Option<Circuit> {
    if let Some((_, house)) = houses().into_iter().find(|(own, _)| *own == name) {
        return Some(house.circuit());
    }
    if let Some((_, rooftop)) = rooftops().into_iter().find(|(own, _)| *own == name) {
        return Some(rooftop.circuit());
    }
    let (_, parts, cause, call, stage) = FAULTED.into_iter().find(|(own, ..)| *own == name)?;
    Some(faulted(parts, cause, call, stage))
}
