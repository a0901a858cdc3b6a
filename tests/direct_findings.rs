//! The direct finding of a cause, made after what a technician would tell on the phone, makes that cause lead, and the
//! walk asks for it by itself. One row per cause; the rows are invented cases.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]

use std::convert::Infallible;
use std::fmt::Write as _;

use lineside::knowledge::{self, model::Knowledge};
use lineside::report::CaseResult;
use lineside::walk::{AnswerFile, Walk, drive};

struct Row {
    complaint: &'static str,
    equipment: &'static str,
    /// What is told at once.
    told: &'static [(&'static str, &'static str)],
    /// What shows only when the walk asks for it.
    direct: (&'static str, &'static str),
    cause: &'static str,
}

const ROWS: &[Row] = &[
    Row {
        complaint: "does-not-run",
        equipment: "split-air-conditioner",
        told: &[
            ("what-runs", "outdoor-unit-dead"),
            ("fan-on-runs", "runs-always"),
            ("equipment-age", "under-a-year"),
        ],
        direct: ("leak-board-look", "sensor-fault"),
        cause: "refrigerant-leak-sensor-or-board",
    },
    Row {
        complaint: "does-not-run",
        equipment: "heat-pump",
        told: &[
            ("what-runs", "outdoor-unit-dead"),
            ("what-starts-it", "certain-hours"),
            ("fan-on-runs", "runs"),
        ],
        direct: ("utility-switch-look", "holds-without-event"),
        cause: "utility-switch-holds-unit-off",
    },
    Row {
        complaint: "does-not-run",
        equipment: "rooftop-three-phase",
        told: &[("what-runs", "control-alive-only"), ("fan-on-runs", "silent")],
        direct: ("smoke-and-automation-look", "alarm-or-trouble"),
        cause: "smoke-detector-or-automation-holds-off",
    },
    Row {
        complaint: "does-not-run",
        equipment: "split-air-conditioner",
        told: &[
            ("what-runs", "outdoor-unit-dead"),
            ("fan-on-runs", "runs"),
            ("contactor-in-or-out", "out"),
        ],
        direct: ("call-stops-at-device", "delay-timer"),
        cause: "delay-timer-failed",
    },
    Row {
        complaint: "does-not-run",
        equipment: "rooftop-three-phase",
        told: &[("what-runs", "blower-dead"), ("how-it-comes-back", "after-reset")],
        direct: ("overload-relay-look", "tripped-set-low"),
        cause: "overload-relay-tripped-or-missized",
    },
    Row {
        complaint: "equipment-resets",
        equipment: "three-phase-split",
        told: &[
            ("what-drops-out", "outdoor-unit-only"),
            ("how-it-comes-back", "after-cooling"),
            ("fault-memory", "refrigerant-pressure"),
        ],
        direct: ("protection-module-ohms", "outside-data"),
        cause: "compressor-motor-sensor-bad",
    },
    Row {
        complaint: "does-not-run",
        equipment: "oil-boiler",
        told: &[
            ("what-runs", "nothing-at-all"),
            ("switch-and-door-look", "all-on"),
        ],
        direct: ("oil-fire-switch-look", "open-clean"),
        cause: "oil-fire-switch-open",
    },
    Row {
        complaint: "does-not-run",
        equipment: "boiler",
        told: &[("what-runs", "burner-dead")],
        direct: ("aquastat-and-damper-volts", "across-damper"),
        cause: "aquastat-or-vent-damper-not-proving",
    },
    Row {
        complaint: "does-not-run",
        equipment: "split-air-conditioner",
        told: &[
            ("what-runs", "outdoor-unit-dead"),
            ("contactor-in-or-out", "in-all-dead"),
            ("switch-and-door-look", "all-on"),
            ("panel-outside-look", "clean"),
            ("hots-to-neutral-and-across", "one-dead"),
        ],
        direct: ("breaker-poles-compared", "screw-dead-bus-live"),
        cause: "breaker-pole-open",
    },
    Row {
        complaint: "electric-heat",
        equipment: "electric-air-handler",
        told: &[
            ("heat-complaint-kind", "none"),
            ("heater-supplies", "all-closed"),
            ("heater-supply-volts", "one-missing"),
        ],
        direct: ("breaker-poles-ohms", "one-open"),
        cause: "breaker-pole-open",
    },
    Row {
        complaint: "does-not-run",
        equipment: "heat-pump",
        told: &[
            ("what-runs", "outdoor-unit-dead"),
            ("what-changed", "serviced-or-cleaned"),
            ("how-it-began", "one-moment"),
        ],
        direct: ("switch-and-door-look", "pull-out-reversed"),
        cause: "pull-out-put-in-upside-down",
    },
    Row {
        complaint: "part-burnt",
        equipment: "split-air-conditioner",
        told: &[
            ("hazard-look", "heat-damage"),
            ("made-safe", "safe"),
            ("burnt-part", "along-conductor"),
            ("device-when-it-burnt", "none-opened"),
        ],
        direct: ("panel-kind-look", "known-to-fail"),
        cause: "breaker-fails-to-open",
    },
    Row {
        complaint: "control-power-lost",
        equipment: "gas-furnace",
        told: &[
            ("what-control-part-failed", "transformer-burnt"),
            ("replaced-without-cure", "thermostat"),
        ],
        direct: ("line-to-control-ohms", "low"),
        cause: "line-voltage-on-control-wires",
    },
    Row {
        complaint: "does-not-run",
        equipment: "room-unit",
        told: &[
            ("what-runs", "nothing-at-all"),
            ("how-it-comes-back", "after-reset"),
        ],
        direct: ("plug-reset-try", "no-reset-or-opens-off"),
        cause: "leakage-detecting-plug-or-cord",
    },
    Row {
        complaint: "does-not-run",
        equipment: "shore-cord-unit",
        told: &[
            ("what-runs", "nothing-at-all"),
            ("smell-from-where", "panel-or-outlet"),
        ],
        direct: ("shore-connections-look", "burnt-or-loose"),
        cause: "shore-inlet-or-protector-burnt",
    },
    Row {
        complaint: "part-fails-again",
        equipment: "mini-split",
        told: &[("part-again", "board"), ("new-part-effect", "nothing-changed")],
        direct: ("dc-fan-motor-ohms", "near-zero"),
        cause: "dc-fan-motor-shorts-its-board",
    },
    Row {
        complaint: "weak-cooling-or-heating",
        equipment: "mini-split",
        told: &[("weak-pattern", "by-fits"), ("standing-pressure", "fits")],
        direct: ("expansion-valve-coil-ohms", "open-or-unlike"),
        cause: "expansion-valve-coil-or-stepper",
    },
    Row {
        complaint: "weak-cooling-or-heating",
        equipment: "rooftop-three-phase",
        told: &[
            ("weak-pattern", "at-the-peak"),
            ("runs-without-end", "never-stops"),
        ],
        direct: ("economizer-stroke", "stuck-open"),
        cause: "economizer-stuck",
    },
    Row {
        complaint: "does-not-run",
        equipment: "package-unit",
        told: &[
            ("what-runs", "outdoor-fan-dead"),
            ("dead-part-sound", "silent"),
            ("fan-motor-windings", "normal"),
        ],
        direct: ("fan-control-in-and-out", "in-not-out"),
        cause: "fan-cycling-control-failed",
    },
    Row {
        complaint: "motor-will-not-start",
        equipment: "split-air-conditioner",
        told: &[
            ("what-runs", "compressor-dead"),
            ("start-aid-effect", "no-change"),
        ],
        direct: ("soft-starter-wiring-look", "burnt-or-wrong"),
        cause: "soft-starter-failed",
    },
    Row {
        complaint: "equipment-resets",
        equipment: "gas-package-unit",
        told: &[
            ("what-drops-out", "burner-only"),
            ("fault-memory", "limit-or-rollout"),
            ("fuel-hazard-look", "none"),
            ("rollout-look", "not-tripped"),
            // Looked at before the first flame of the visit.
            ("vent-and-air-checked", "clear"),
            ("safety-bridged-look", "none"),
        ],
        direct: ("gas-input-clocked", "above-plate"),
        cause: "overfired-or-wrong-orifice",
    },
    Row {
        complaint: "flame-lost",
        equipment: "split-with-gas-furnace",
        told: &[
            ("flame-at-failed-try", "burns-then-lost"),
            ("gas-checked", "fat-or-lazy"),
        ],
        direct: ("orifice-and-conversion-look", "wrong-or-drilled"),
        cause: "overfired-or-wrong-orifice",
    },
    Row {
        complaint: "equipment-resets",
        equipment: "water-source-heat-pump",
        told: &[
            ("what-drops-out", "outdoor-unit-only"),
            ("fault-memory", "refrigerant-pressure"),
        ],
        direct: ("source-water-valves-look", "shut-clogged-or-dead"),
        cause: "source-water-flow-lost",
    },
    Row {
        complaint: "does-not-run",
        equipment: "packaged-terminal-unit",
        told: &[("what-runs", "nothing-at-all")],
        direct: ("plug-reset-try", "no-reset-or-opens-off"),
        cause: "leakage-detecting-plug-or-cord",
    },
    Row {
        complaint: "does-not-run",
        equipment: "dual-fuel",
        told: &[("what-runs", "outdoor-unit-dead"), ("contactor-in-or-out", "out")],
        direct: ("call-stops-at-device", "leak-board"),
        cause: "refrigerant-leak-sensor-or-board",
    },
    Row {
        complaint: "electric-heat",
        equipment: "electric-boiler",
        told: &[
            ("heat-complaint-kind", "none"),
            ("heater-supply-volts", "one-missing"),
        ],
        direct: ("breaker-poles-ohms", "one-open"),
        cause: "breaker-pole-open",
    },
];

/// The cause that leads and whether the direct finding was asked for.
fn led(knowledge: &Knowledge, row: &Row) -> (String, bool) {
    let mut text = format!(
        "complaint = \"{}\"\nequipment = \"{}\"\n[answers]\n",
        row.complaint, row.equipment
    );
    let hazard = row.told.iter().any(|(test, _)| *test == "hazard-look");
    if !hazard {
        text.push_str("hazard-look = \"none\"\n");
    }
    let has_burner = knowledge.equipment(row.equipment).is_some_and(|kind| {
        knowledge.equipment[kind]
            .parts
            .iter()
            .any(|part| part == "burner")
    });
    if has_burner && !row.told.iter().any(|(test, _)| *test == "fuel-hazard-look") {
        text.push_str("fuel-hazard-look = \"none\"\n");
    }
    // Looked at before the first call for heat, where the row says nothing else of it.
    let looks = [
        "vent-and-air-checked",
        "rollout-look",
        "safety-bridged-look",
        "low-water-look",
    ];
    if has_burner && !row.told.iter().any(|(test, _)| looks.contains(test)) {
        text.push_str("before-flame-look = \"all-well\"\n");
    }
    for (test, outcome) in row.told {
        writeln!(text, "{test} = \"{outcome}\"").unwrap();
    }
    let (test, outcome) = row.direct;
    write!(text, "[if-asked]\n{test} = \"{outcome}\"\n").unwrap();
    let mut answers =
        AnswerFile::parse(&text, knowledge).unwrap_or_else(|errors| panic!("{}: {errors:?}", row.cause));
    let mut walk = Walk::new(knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_| Ok(())).unwrap();
    let result = CaseResult::new(&walk).unwrap();
    let asked = result.answers.iter().any(|answer| answer.test == test);
    (result.standing.first().unwrap().cause.clone(), asked)
}

#[test]
fn a_direct_finding_that_the_walk_asks_for_makes_its_cause_lead() {
    let knowledge = knowledge::embedded().unwrap();
    let missed: Vec<String> = ROWS
        .iter()
        .filter_map(|row| {
            let (leader, asked) = led(&knowledge, row);
            (leader != row.cause || !asked)
                .then(|| format!("{}: {leader} leads, {} asked: {asked}", row.cause, row.direct.0))
        })
        .collect();
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}
