//! What stands on the plates of the rig's installation, as a person would type it.

use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::FactIndex;
use crate::quantity::{Value, ValueKind};
use crate::standards::lookup;
use crate::walk::Walk;

use super::case::Fault;
use super::installation::{Installation, Plate};

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
        "heat-power" => Some("heater-power"),
        "wire" if THIN.contains(&cause) => Some("conductor-size"),
        // The length of a circuit says nothing of a cord.
        "wire" if LONG.contains(&cause) && cause != "generator-cord-too-thin" => Some("conductor-length"),
        _ => None,
    }
}

fn device(installation: &Installation) -> f64 {
    let wanted = installation.plate.device * installation.values.breaker_size;
    lookup::nearest_rating(ElectricCurrent::new::<ampere>(wanted))
        .map_or(wanted, |rating| rating.get::<ampere>())
}

fn conductor(installation: &Installation, fault: &Fault) -> &'static str {
    let place = COPPER
        .iter()
        .position(|(most, _)| installation.plate.device <= *most)
        .unwrap_or(3);
    let thinner = match THIN.contains(&fault.cause.as_str()) {
        true if installation.values.wire > 2.2 => 2,
        true => 1,
        false => 0,
    };
    COPPER[place.saturating_sub(thinner)].1
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
    let heat = if indoor > 0.0 {
        plate.heater / plate.heater_volts
    } else {
        0.0
    };
    (plate.rated_load + plate.fan + indoor).max(heat + indoor)
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
        "maximum-overcurrent-protection" => some(plate.device, "A"),
        "minimum-circuit-ampacity" => some(minimum_ampacity(plate, running), "A"),
        "unit-running-current" => some(running, "A"),
        "rated-load-current" => some(plate.rated_load, "A"),
        "locked-rotor-current" => some(plate.locked_rotor, "A"),
        "fan-full-load-current" => some(plate.fan, "A"),
        "blower-full-load-current" => some(plate.blower, "A"),
        "heater-power" => some(plate.heater, "W"),
        "heater-rated-voltage" => some(plate.heater_volts, "V"),
        "nameplate-circuits" => some(plate.device, "A"),
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
