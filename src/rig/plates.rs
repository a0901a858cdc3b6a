//! What stands on the plates of the rig's installation, as a person would type it.

use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::FactIndex;
use crate::quantity::{Value, ValueKind};
use crate::standards::lookup;
use crate::walk::Walk;

use super::case::Fault;
use super::installation::{Feed, Installation, Plate};

/// Copper by the largest device it belongs to (NEC 240.4, 310.16 at 60 C).
const COPPER: [(f64, &str); 10] = [
    (0.0, "#16"),
    (15.0, "#14"),
    (20.0, "#12"),
    (30.0, "#10"),
    (40.0, "#8"),
    (55.0, "#6"),
    (70.0, "#4"),
    (95.0, "#2"),
    (125.0, "#1/0"),
    (f64::INFINITY, "#3/0"),
];

/// Feet of the run when nothing is known of it.
const RUN: f64 = 50.0;

/// Causes whose conductor is thinner than the load asks for; with others a larger resistance is length or heat.
const THIN: [&str; 2] = ["undersized-branch-conductor", "old-circuit-new-bigger-unit"];

/// The cause whose heater is made for several circuits.
const MERGED: &str = "merged-heater-circuits";

/// Causes whose run is long.
const LONG: [&str; 3] = [
    "long-run-voltage-drop",
    "generator-cord-too-thin",
    "voltage-dip-at-compressor-start",
];

/// The fact that says already what a fault would change: where it is given, the installation has the fault in it, and changing the
/// value would count it twice.
#[must_use]
pub fn said_by(cause: &str, key: &str) -> Option<&'static str> {
    match key {
        "breaker-size" => Some("protective-device-rating"),
        "heat-breaker-size" => Some("heater-device-rating"),
        "heat-power" => Some("heater-power"),
        "wire" if THIN.contains(&cause) => Some("conductor-size"),
        // The length of a circuit says nothing of a cord.
        "wire" if LONG.contains(&cause) && cause != "generator-cord-too-thin" => Some("conductor-length"),
        _ => None,
    }
}

fn device(installation: &Installation) -> f64 {
    nearest(installation.rating())
}

fn nearest(amps: f64) -> f64 {
    lookup::nearest_rating(ElectricCurrent::new::<ampere>(amps)).map_or(amps, |rating| rating.get::<ampere>())
}

/// The breaker ahead of the electric heat: the unit's, or on a split system its own, at 125 % of heat and blower (NEC 424.4(B)).
fn heat_device(installation: &Installation) -> f64 {
    if !installation.has_indoor_circuit() {
        return device(installation);
    }
    let plate = &installation.plate;
    let needed = 1.25 * (heat_current(plate) + plate.blower);
    let belongs = lookup::rating_at_or_above(ElectricCurrent::new::<ampere>(needed))
        .map_or(needed, |rating| rating.get::<ampere>());
    nearest(belongs * installation.values.heat_breaker)
}

/// What the label of the heater asks for: one circuit, or, where several were merged onto one, that one and the rest.
fn heat_circuits(installation: &Installation, fault: &Fault) -> String {
    let belongs = installation.plate.device;
    if fault.cause != MERGED {
        return format!("{belongs:.4} A");
    }
    let one = heat_device(installation);
    format!("{one:.4} A, {:.4} A", nearest((belongs - one).max(15.0)))
}

fn heat_current(plate: &Plate) -> f64 {
    let lines = if plate.feed == Feed::ThreeLines {
        3f64.sqrt()
    } else {
        1.0
    };
    plate.heater / plate.heater_volts / lines
}

/// The conductor: the one that belongs to the device; where it is the fault to be thin, one too small for what the plate asks for.
fn conductor(installation: &Installation, fault: &Fault) -> &'static str {
    let belongs = |amps: f64| COPPER.iter().position(|(most, _)| amps <= *most).unwrap_or(3);
    let place = belongs(installation.plate.device);
    if !is_thin(fault) {
        return COPPER[place].1;
    }
    let running = running_current(installation);
    let small = belongs(minimum_ampacity(&installation.plate, running)).saturating_sub(1);
    let thinner = if installation.values.wire > 3.2 { 3 } else { 2 };
    COPPER[place.saturating_sub(thinner).min(small).max(1)].1
}

/// Whether a conductor that is too thin is the fault.
#[must_use]
pub fn is_thin(fault: &Fault) -> bool {
    THIN.contains(&fault.cause.as_str())
}

/// Running current of the unit by its plate, A.
#[must_use]
pub fn running_current(installation: &Installation) -> f64 {
    let plate = &installation.plate;
    let indoor = if installation.has_indoor_circuit() {
        0.0
    } else {
        plate.blower + plate.draft
    };
    let heat = if indoor > 0.0 { heat_current(plate) } else { 0.0 };
    (plate.rated_load + plate.fan + indoor).max(heat + indoor)
}

/// From this many times the impedance of a utility's transformer it is a source of one's own.
pub(super) const OWN_SOURCE: f64 = 4.0;

/// Share of its volts that a generator or inverter may lose while a motor starts for it to be rated for that start. A judgment, no
/// source: sheets state 15 to 30 %.
const START_DIP: f64 = 0.175;

/// Impedance of a utility's transformer in one line, ohm (`service.rs`).
const UTILITY_OHMS: f64 = 0.0144;

/// Volt-amperes a source of one's own gives for a start: with these its volts dip by the share it is rated for.
fn surge(installation: &Installation) -> Option<f64> {
    let plate = &installation.plate;
    let source = installation.values.source;
    let lines = if plate.feed == Feed::TwoHots { 2.0 } else { 1.0 };
    let rated = plate.volts.powi(2) * START_DIP / (1.0 - START_DIP) / (lines * UTILITY_OHMS * source);
    (source >= OWN_SOURCE).then(|| (rated / 100.0).round() * 100.0)
}

fn minimum_ampacity(plate: &Plate, running: f64) -> f64 {
    (running + 0.25 * plate.rated_load).max(1.25 * running * f64::from(u8::from(plate.rated_load == 0.0)))
}

/// A fact by its id, as typed; nothing where it stands nowhere.
fn typed(installation: &Installation, fault: &Fault, id: &str) -> Option<String> {
    let plate = &installation.plate;
    let some = |amount: f64, unit: &str| (amount > 0.0).then(|| format!("{amount:.4} {unit}"));
    let running = running_current(installation);
    match id {
        "nameplate-voltage" => some(plate.nameplate_volts, "V"),
        "protective-device-rating" | "panel-breaker-rating" => some(device(installation), "A"),
        "heater-device-rating" if plate.heater > 0.0 => some(heat_device(installation), "A"),
        "maximum-overcurrent-protection" => some(plate.device, "A"),
        "minimum-circuit-ampacity" => some(minimum_ampacity(plate, running), "A"),
        "unit-running-current" => some(running, "A"),
        "rated-load-current" => some(plate.rated_load, "A"),
        "locked-rotor-current" => some(plate.locked_rotor, "A"),
        "fan-full-load-current" => some(plate.fan, "A"),
        "blower-full-load-current" => some(plate.blower, "A"),
        "heater-power" => some(plate.heater, "W"),
        "heater-rated-voltage" => some(plate.heater_volts, "V"),
        "nameplate-circuits" => Some(heat_circuits(installation, fault)),
        "run-capacitor-rating" => some(plate.microfarad, "uF"),
        "transformer-rating" => some(plate.transformer, "VA"),
        "main-breaker-rating" => some(plate.main, "A"),
        "control-minimum-flame-current" => some(plate.least_flame, "uA"),
        "conductor-size" | "grounding-conductor-size" => Some(conductor(installation, fault).to_owned()),
        "conductor-length" => {
            let long = LONG.contains(&fault.cause.as_str());
            some(RUN * if long { installation.values.wire } else { 1.0 }, "ft")
        }
        "ambient-temperature" => some(installation.values.wire_air, "C"),
        "conductors-together" => Some("2".to_owned()),
        "circuits-supplied" => Some("1".to_owned()),
        "source-surge-rating" => some(surge(installation)?, "VA"),
        "source-other-load" => {
            surge(installation)?;
            some(2.0 * 120.0 * installation.values.other_load * plate.main, "VA")
        }
        "circuit-loads" if installation.values.shared > 0.0 => {
            Some(format!("other load {:.1} motor", installation.values.shared))
        }
        _ => None,
    }
}

/// Every fact of the knowledge as the installation has it.
#[must_use]
pub fn facts(
    walk: &Walk<'_>,
    installation: &Installation,
    fault: &Fault,
) -> Indexed<FactIndex, Option<Value>> {
    let knowledge = walk.knowledge();
    let own = walk.installation();
    knowledge
        .facts
        .indexed()
        .map(|(index, fact)| {
            if own.is_none_or(|own| !fact.applies_to(own)) {
                return None;
            }
            // The first choice of a fact is the everyday one.
            let first = walk
                .choices_offered(index)
                .first()
                .map(|choice| choice.id.clone());
            let typed = if fact.kind == ValueKind::Choice {
                first
            } else {
                typed(installation, fault, &fact.id)
            };
            fact.read(&typed?).ok()
        })
        .collect()
}
