//! What stands on the plates of everyday equipment, and what meters mostly read on it.
//!
//! Invented: round figures of no maker's. Cooling units keep the rule of their plates (NEC 440.22, 440.33: minimum 1.25 times
//! the compressor and the fans, largest device 2.25 times and the fans, rounded down), heat 125 % of element and blower.

use fastrand::Rng;

/// One plate: ids of facts with what stands there.
type Plate = &'static [(&'static str, &'static str)];

/// Cooling on one phase, 230 V: 2, 3 and 4 tons.
const COOLING: [Plate; 3] = [
    &[
        ("rated-load-current", "11.2 A"),
        ("locked-rotor-current", "58 A"),
        ("fan-full-load-current", "0.9 A"),
        ("unit-running-current", "12.1 A"),
        ("minimum-circuit-ampacity", "14.9 A"),
        ("maximum-overcurrent-protection", "25 A"),
        ("protective-device-rating", "25 A"),
        ("panel-breaker-rating", "25 A"),
        ("conductor-size", "#12"),
        ("grounding-conductor-size", "#12"),
        ("run-capacitor-rating", "35 uF"),
    ],
    &[
        ("rated-load-current", "16.7 A"),
        ("locked-rotor-current", "79 A"),
        ("fan-full-load-current", "1.0 A"),
        ("unit-running-current", "17.7 A"),
        ("minimum-circuit-ampacity", "21.9 A"),
        ("maximum-overcurrent-protection", "35 A"),
        ("protective-device-rating", "35 A"),
        ("panel-breaker-rating", "35 A"),
        ("conductor-size", "#10"),
        ("grounding-conductor-size", "#10"),
        ("run-capacitor-rating", "40 uF"),
    ],
    &[
        ("rated-load-current", "19.9 A"),
        ("locked-rotor-current", "109 A"),
        ("fan-full-load-current", "1.4 A"),
        ("unit-running-current", "21.3 A"),
        ("minimum-circuit-ampacity", "26.3 A"),
        ("maximum-overcurrent-protection", "45 A"),
        ("protective-device-rating", "45 A"),
        ("panel-breaker-rating", "45 A"),
        ("conductor-size", "#8"),
        ("grounding-conductor-size", "#10"),
        ("run-capacitor-rating", "45 uF"),
    ],
];

const THREE_PHASE: Plate = &[
    ("nameplate-voltage", "208 V"),
    ("rated-load-current", "25 A"),
    ("locked-rotor-current", "164 A"),
    ("fan-full-load-current", "1.5 A"),
    ("blower-full-load-current", "4.6 A"),
    ("unit-running-current", "31.1 A"),
    ("minimum-circuit-ampacity", "37.4 A"),
    ("maximum-overcurrent-protection", "60 A"),
    ("protective-device-rating", "60 A"),
    ("panel-breaker-rating", "60 A"),
    ("conductor-size", "#8"),
    ("grounding-conductor-size", "#10"),
    ("run-capacitor-rating", "10 uF"),
    ("main-breaker-rating", "400 A"),
];

const ROOM_UNIT: Plate = &[
    ("nameplate-voltage", "115 V"),
    ("rated-load-current", "8.6 A"),
    ("locked-rotor-current", "38 A"),
    ("fan-full-load-current", "0.7 A"),
    ("unit-running-current", "9.3 A"),
    ("minimum-circuit-ampacity", "11.5 A"),
    ("maximum-overcurrent-protection", "15 A"),
    ("protective-device-rating", "15 A"),
    ("panel-breaker-rating", "15 A"),
    ("conductor-size", "#14"),
    ("grounding-conductor-size", "#14"),
    ("run-capacitor-rating", "30 uF"),
];

const FURNACE: Plate = &[
    ("nameplate-voltage", "115 V"),
    ("blower-full-load-current", "6.8 A"),
    ("unit-running-current", "7.9 A"),
    ("minimum-circuit-ampacity", "9.6 A"),
    ("maximum-overcurrent-protection", "15 A"),
    ("protective-device-rating", "15 A"),
    ("panel-breaker-rating", "15 A"),
    ("conductor-size", "#14"),
    ("grounding-conductor-size", "#14"),
];

const ELECTRIC_HEAT: Plate = &[
    ("nameplate-voltage", "240 V"),
    ("heater-power", "9.6 kW"),
    ("blower-full-load-current", "3.1 A"),
    ("unit-running-current", "43.1 A"),
    ("minimum-circuit-ampacity", "53.9 A"),
    ("maximum-overcurrent-protection", "60 A"),
    ("protective-device-rating", "60 A"),
    ("panel-breaker-rating", "60 A"),
    ("conductor-size", "#6"),
    ("grounding-conductor-size", "#10"),
];

/// On nearly all of them.
const ANY: Plate = &[
    ("nameplate-voltage", "230 V"),
    ("blower-full-load-current", "3.1 A"),
    ("conductor-length", "48 ft"),
    ("ambient-temperature", "86 F"),
    ("conductors-together", "2"),
    ("circuits-supplied", "1"),
    ("nameplate-circuits", "60 A"),
    ("heater-power", "4.8 kW"),
    ("heater-rated-voltage", "240 V"),
    ("transformer-rating", "40 VA"),
    ("control-minimum-flame-current", "1 uA"),
    ("main-breaker-rating", "200 A"),
    ("conductor-insulation", "75"),
    ("code-edition", "2023"),
    ("time-between-failures", "60 h"),
    ("source-surge-rating", "12500 VA"),
    ("source-running-rating", "10000 VA"),
    ("source-other-load", "900 VA"),
];

/// What stands on the plates of equipment with these parts. The first line of a fact counts.
pub(super) fn of(parts: &[String], rng: &mut Rng) -> Vec<(&'static str, &'static str)> {
    let has = |part: &str| parts.iter().any(|own| own == part);
    let own = if has("three-phase") {
        THREE_PHASE
    } else if has("cord-and-plug") && has("circuit-neutral") {
        ROOM_UNIT
    } else if has("compressor") {
        COOLING[rng.usize(..COOLING.len())]
    } else if has("electric-heat") {
        ELECTRIC_HEAT
    } else if has("burner") {
        FURNACE
    } else {
        &[]
    };
    own.iter().chain(ANY).copied().collect()
}

/// What else may stand there, tried where a calculation should come out with a broken limit.
pub(super) fn others(fact: &str) -> &'static [&'static str] {
    match fact {
        "protective-device-rating" => &["15 A", "20 A", "25 A", "30 A", "40 A", "50 A", "60 A", "80 A"],
        "protective-device-kind" => &["breaker", "fuse"],
        "nameplate-device-kind" => &["fuse-or-breaker", "fuse-only"],
        "conductor-size" => &["#14", "#12", "#10", "#8", "#6", "#4"],
        "conductor-length" => &["30 ft", "90 ft", "160 ft", "240 ft"],
        "ambient-temperature" => &["86 F", "130 F", "145 F"],
        "conductors-together" => &["2", "6", "9"],
        "conductor-insulation" => &["60", "75", "90"],
        "circuits-supplied" => &["1", "2"],
        "nameplate-circuits" => &["60 A", "60 A, 30 A", "45 A"],
        "heater-power" => &["3 kW", "4.8 kW", "9.6 kW", "14.4 kW", "19.2 kW"],
        "grounding-conductor-size" => &["#14", "#12", "#10", "#8"],
        "unit-running-current" => &["7.2 A", "9.3 A", "12.1 A", "14.0 A"],
        "circuit-loads" => &[
            "work light 1.5",
            "chest freezer 6 motor; work light 1.5",
            "space heater 12.5; work light 1.5",
            "sump pump 9.8 motor",
        ],
        "transformer-rating" => &["40 VA", "20 VA", "75 VA"],
        "source-surge-rating" => &[
            "3000 VA", "6500 VA", "9000 VA", "12500 VA", "20000 VA", "30000 VA", "60000 VA",
        ],
        "source-running-rating" => &[
            "2500 VA", "5000 VA", "7500 VA", "10000 VA", "24000 VA", "50000 VA",
        ],
        _ => &[],
    }
}

/// Between which figures a reading mostly lies: in the unit of its test, or times a fact or another reading.
#[derive(Clone, Copy, Debug)]
pub(super) struct Usual {
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) of: Option<&'static str>,
}

/// Test, outcome, lowest, highest, times what. Where nothing stands, the limits of the outcome are enough. Judgments.
type Line = (&'static str, &'static str, f64, f64, Option<&'static str>);

const USUAL: [Line; 77] = [
    ("leg-1-voltage", "normal", 119.0, 122.5, None),
    ("leg-1-voltage", "low", 102.0, 112.0, None),
    ("leg-1-voltage", "far-too-high", 136.0, 152.0, None),
    ("leg-2-voltage", "normal", 119.0, 122.5, None),
    ("leg-2-voltage", "low", 102.0, 112.0, None),
    ("leg-2-voltage", "far-too-high", 136.0, 152.0, None),
    ("leg-1-with-load", "normal", 0.982, 0.998, Some("leg-1-voltage")),
    ("leg-2-with-load", "normal", 0.982, 0.998, Some("leg-2-voltage")),
    ("leg-1-with-load", "low", 0.88, 0.95, Some("leg-1-voltage")),
    ("leg-2-with-load", "low", 0.88, 0.95, Some("leg-2-voltage")),
    ("leg-1-with-load", "high", 1.04, 1.12, Some("leg-1-voltage")),
    ("leg-2-with-load", "high", 1.03, 1.07, Some("leg-2-voltage")),
    ("neutral-to-ground-running", "normal", 0.2, 1.4, None),
    ("neutral-to-ground-running", "many-volts", 6.0, 9.0, None),
    ("neutral-to-ground-running", "far-too-many", 14.0, 60.0, None),
    ("main-pole-drop", "normal", 0.01, 0.09, None),
    (
        "voltage-at-panel-rest",
        "normal",
        0.995,
        1.04,
        Some("nameplate-voltage"),
    ),
    (
        "voltage-at-panel-rest",
        "missing",
        0.0,
        0.02,
        Some("nameplate-voltage"),
    ),
    (
        "voltage-at-panel-running",
        "normal",
        0.983,
        0.997,
        Some("voltage-at-panel-rest"),
    ),
    (
        "voltage-at-disconnect-rest",
        "normal",
        0.995,
        1.0,
        Some("voltage-at-panel-rest"),
    ),
    (
        "voltage-at-disconnect-rest",
        "missing",
        0.0,
        0.02,
        Some("nameplate-voltage"),
    ),
    (
        "voltage-at-disconnect-running",
        "normal",
        0.984,
        0.997,
        Some("voltage-at-panel-running"),
    ),
    (
        "voltage-at-unit-rest",
        "normal",
        0.996,
        1.0,
        Some("voltage-at-disconnect-rest"),
    ),
    (
        "voltage-at-unit-rest",
        "missing",
        0.0,
        0.02,
        Some("nameplate-voltage"),
    ),
    (
        "voltage-at-unit-running",
        "normal",
        0.989,
        0.998,
        Some("voltage-at-disconnect-running"),
    ),
    (
        "voltage-at-unit-running",
        "whip-loss",
        0.92,
        0.975,
        Some("voltage-at-disconnect-running"),
    ),
    (
        "unit-current-running",
        "normal",
        0.8,
        0.98,
        Some("unit-running-current"),
    ),
    (
        "unit-current-running",
        "near-zero",
        0.0,
        0.04,
        Some("unit-running-current"),
    ),
    ("source-frequency-rest", "right", 59.6, 60.4, None),
    ("source-frequency-start", "holds", 58.0, 60.0, None),
    ("control-splice-drop", "good", 0.01, 0.15, None),
    (
        "current-at-breaker",
        "well-below",
        0.4,
        0.7,
        Some("protective-device-rating"),
    ),
    ("panel-air-temperature", "ordinary", 21.0, 33.0, None),
    ("gfci-leakage", "fault-level", 20.0, 300.0, None),
    (
        "main-leg-1-current",
        "ordinary",
        0.15,
        0.45,
        Some("main-breaker-rating"),
    ),
    (
        "main-leg-2-current",
        "alike",
        0.8,
        1.25,
        Some("main-leg-1-current"),
    ),
    (
        "voltage-at-panel-at-start",
        "holds",
        0.982,
        0.996,
        Some("voltage-at-panel-rest"),
    ),
    (
        "voltage-at-unit-at-start",
        "holds",
        0.955,
        1.0,
        Some("nameplate-voltage"),
    ),
    ("control-voltage-unloaded", "normal", 25.8, 28.4, None),
    ("control-voltage-unloaded", "absent", 0.0, 0.6, None),
    ("control-voltage-loaded", "normal", 24.3, 26.6, None),
    ("control-voltage-loaded", "absent", 0.0, 0.6, None),
    ("secondary-current", "flowing", 0.5, 1.4, None),
    ("coil-current", "normal", 0.18, 0.38, None),
    ("coil-voltage-called", "good", 24.0, 26.4, None),
    ("coil-voltage-called", "absent", 0.0, 0.6, None),
    ("relay-contact-drop", "good", 0.01, 0.15, None),
    ("relay-contact-drop", "open", 23.0, 27.0, None),
    ("ground-resistance", "good", 0.1, 0.35, None),
    ("ground-resistance", "high", 1.6, 9.0, None),
    ("compressor-insulation", "good", 90.0, 550.0, None),
    ("compressor-insulation", "suspect", 2.0, 15.0, None),
    // Volts times 2 pi 60 Hz, at about 360 V.
    (
        "capacitor-lead-current",
        "flows",
        134_000.0,
        138_000.0,
        Some("run-capacitor-rating"),
    ),
    ("capacitor-voltage-running", "present", 356.0, 364.0, None),
    (
        "compressor-running-current",
        "flowing",
        0.84,
        0.95,
        Some("rated-load-current"),
    ),
    (
        "outdoor-fan-current",
        "normal",
        0.75,
        1.0,
        Some("fan-full-load-current"),
    ),
    (
        "blower-current",
        "normal",
        0.7,
        0.98,
        Some("blower-full-load-current"),
    ),
    ("current-phase-a", "flows", 0.7, 0.76, Some("rated-load-current")),
    ("current-phase-b", "flows", 0.7, 0.76, Some("rated-load-current")),
    ("current-phase-c", "flows", 0.7, 0.76, Some("rated-load-current")),
    ("voltage-phase-ab", "right", 0.99, 1.01, Some("nameplate-voltage")),
    ("voltage-phase-bc", "right", 0.99, 1.01, Some("nameplate-voltage")),
    ("voltage-phase-ca", "right", 0.99, 1.01, Some("nameplate-voltage")),
    ("voltage-across-each-fuse", "good", 0.01, 0.12, None),
    ("voltage-across-each-fuse", "open", 200.0, 240.0, None),
    // Watts by 240 V.
    ("heater-amps", "flowing", 0.00405, 0.00418, Some("heater-power")),
    ("heater-amps-call-off", "flowing", 17.0, 42.0, None),
    ("metal-volts-running", "live", 40.0, 118.0, None),
    ("service-switch-drop", "good", 0.02, 0.15, None),
    ("oil-eye-resistance", "good", 250.0, 800.0, None),
    ("thermocouple-millivolts", "good", 21.0, 29.0, None),
    ("breaker-joint-drop", "good", 3.0, 18.0, None),
    ("breaker-pole-drop", "good", 40.0, 130.0, None),
    ("disconnect-pole-drop", "good", 15.0, 70.0, None),
    ("contactor-pole-drop", "good", 0.02, 0.07, None),
    ("contactor-pole-drop", "open", 205.0, 238.0, None),
    ("contactor-joint-drop", "good", 3.0, 25.0, None),
];

/// What a test mostly reads in an outcome.
pub(super) fn usual(test: &str, outcome: &str) -> Option<Usual> {
    USUAL
        .iter()
        .find(|(id, of, ..)| *id == test && *of == outcome)
        .map(|(_, _, low, high, of)| Usual {
            low: *low,
            high: *high,
            of: *of,
        })
}

/// Every id named here, for the test that the knowledge has them: facts, then tests with outcomes.
#[cfg(test)]
pub(super) fn named() -> (Vec<&'static str>, Vec<(&'static str, &'static str)>) {
    let plates = COOLING
        .iter()
        .chain([&THREE_PHASE, &ROOM_UNIT, &FURNACE, &ELECTRIC_HEAT, &ANY]);
    let facts = plates.flat_map(|plate| plate.iter().map(|(id, _)| *id)).collect();
    (
        facts,
        USUAL
            .iter()
            .map(|(test, outcome, ..)| (*test, *outcome))
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_id_is_of_the_knowledge_and_every_value_can_be_typed() {
        let knowledge = crate::knowledge::embedded().expect("it is sound");
        let (facts, readings) = super::named();
        for id in facts {
            assert!(knowledge.fact(id).is_some(), "no fact `{id}`");
        }
        for (test, outcome) in readings {
            let known = knowledge.test(test).map(|test| &knowledge.tests[test]);
            assert!(
                known.is_some_and(|known| known.outcome(outcome).is_some()),
                "no `{test}/{outcome}`"
            );
        }
        for (_, _, _, _, of) in super::USUAL {
            assert!(
                of.is_none_or(|of| knowledge.fact(of).is_some() || knowledge.test(of).is_some()),
                "no {of:?}"
            );
        }
    }
}
