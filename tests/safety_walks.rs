//! No live, running or burner step while a danger stands, on any way through any tree.
//!
//! What a danger is and what ends it is written down here again, by hand and by id, apart from the holds of the
//! knowledge: this file is the second opinion. Random walks over every complaint and equipment answer at random; each
//! named walk was once a way to a live step.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![expect(clippy::print_stdout, reason = "how long the walks are is read from there")]

use std::collections::{BTreeSet, HashMap};
use std::sync::LazyLock;

use fastrand::Rng;
use lineside::knowledge;
use lineside::knowledge::model::{EquipmentIndex, Hold, Knowledge, OutcomeIndex, State, Test, TestKind};
use lineside::quantity::{Quantity, ValueKind, Word};
use lineside::walk::{Event, LEANING_WORD, NOTHING, Question, Reply, Walk};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().unwrap());

/// Walks in `cargo test`, which is built without optimization; `.ci/run` asks for 5,000 of a release build through
/// `LINESIDE_WALKS`.
const WALKS: u64 = 250;

/// A walk beyond this many replies does not end.
const MOST_REPLIES: usize = 1_500;

/// Danger, the outcomes that show it, and what must have been answered after them for it to be over, one of those between bars;
/// without any, only another answer to the same question ends it.
struct Danger {
    name: &'static str,
    shown_by: &'static [(&'static str, &'static [&'static str])],
    over_when: &'static [(&'static str, &'static str)],
    /// The proofs count only when given after the danger was seen, and nothing but them ends it: the same look made again does not.
    anew: bool,
}

/// Stands among the answers for what the person called about.
const COMPLAINT: &str = "complaint";

const DANGERS: &[Danger] = &[
    Danger {
        name: "heat damage",
        shown_by: &[
            ("hazard-look", &["heat-damage"]),
            (
                "burnt-part",
                &[
                    "panel-breaker",
                    "meter-or-main",
                    "splice",
                    "along-conductor",
                    "disconnect",
                    "plug-or-receptacle",
                    "contactor",
                    "compressor-terminal",
                    "heater-wiring",
                    "cabinet-breaker",
                    "control-board",
                    "other-in-unit",
                ],
            ),
            (
                "disconnect-look",
                &[
                    "lug-burnt",
                    "lug-burnt-aluminium",
                    "jaw-burnt",
                    "both-sides-alike",
                    "fuse-or-clip-hot",
                ],
            ),
            (
                "contactor-look",
                &["terminal-burnt", "contacts-burnt", "coil-browned"],
            ),
            ("compressor-terminals-look", &["burnt"]),
            ("plug-and-receptacle-look", &["blade-or-slot-burnt"]),
            (
                "breaker-pulled-look",
                &["stab-burnt", "terminal-burnt", "breaker-case-only"],
            ),
            (
                "conductor-insulation-look",
                &[
                    "stiff-whole-length",
                    "nicked-or-wet",
                    "damaged-hot-stretch-only",
                    "cooked-at-one-end",
                ],
            ),
            (
                "heater-terminals-look",
                &["wires-baked-along", "coil-sags", "terminal-burnt"],
            ),
            ("heater-to-frame", &["marked"]),
            (
                "board-look",
                &["connector-burnt", "relay-joint-burnt", "burst-part"],
            ),
            ("animals-seen", &["gnawed"]),
            ("changed-wiring-look", &["line-pinched"]),
            ("capacitor-body-look", &["domed"]),
            ("blower-capacitor-look", &["domed-or-oily", "tab-loose-or-burnt"]),
            ("start-parts-look", &["bad"]),
            ("start-capacitor-current", &["stays"]),
            ("soft-starter-wiring-look", &["burnt-or-wrong"]),
            ("call-off-still-runs", &["coil-dead-runs"]),
            ("cord-in-path", &["light-or-warm-cord"]),
            (
                "heat-mark-pattern",
                &["one-joint", "both-poles-alike", "whole-conductor", "arc-or-blast"],
            ),
            ("plug-and-pin", &["browned-or-loose", "motor-plug"]),
            ("service-switch-look", &["burnt", "hot-nut-loose", "white-loose"]),
            ("trouble-since-change", &["burnt-or-hot"]),
            ("panel-outside-look", &["buzz-or-hot"]),
            ("fuse-look", &["weak-clip"]),
            ("splices-look", &["burnt-or-loose", "white-burnt"]),
            ("transformer-ohms", &["burnt"]),
            ("contactor-coil-ohms", &["browned"]),
            ("cord-and-plug-block-look", &["cord-damaged", "block-damaged"]),
            ("shore-connections-look", &["burnt-or-loose"]),
            (
                "elements-look",
                &["sagged-or-browned", "one-coil-sags", "one-joint-brown"],
            ),
            ("transfer-switch-look", &["burnt-or-loose"]),
            ("cabinet-breaker-look", &["discoloured", "loose-lug"]),
            ("unit-wiring-look", &["baked"]),
            ("burnt-part-mended", &["not-yet"]),
        ],
        over_when: &[("burnt-part-mended", "mended")],
        anew: true,
    },
    Danger {
        name: "smoke, a flash or a hot place that was told",
        shown_by: &[
            ("hazard-look", &["burning-or-smoke", "over-now", "too-hot"]),
            ("other-hazards-look", &["burnt", "several"]),
            ("hazards-this-visit", &["burnt", "several"]),
        ],
        over_when: &[("burnt-part-mended", "mended|nothing-found")],
        anew: true,
    },
    Danger {
        name: "smoke or heat whose source was not found",
        shown_by: &[
            ("burnt-part", &["nothing-burnt"]),
            ("burnt-part-mended", &["nothing-found"]),
            ("smoke-source", &["not-known"]),
        ],
        over_when: &[("smoke-source", "harmless|smell-only|by-others")],
        anew: true,
    },
    Danger {
        name: "water",
        shown_by: &[
            ("hazard-look", &["water-at-live-parts"]),
            ("other-hazards-look", &["water", "several"]),
            ("hazards-this-visit", &["water", "several"]),
            ("water-above-controls", &["track-to-controls"]),
            ("board-look", &["wet-or-insects"]),
            ("other-coils-ohms", &["drips"]),
        ],
        over_when: &[("water-dried", "dry"), ("unit-to-ground", "open")],
        anew: true,
    },
    Danger {
        name: "a wet cable",
        shown_by: &[
            ("hazard-look", &["water-at-live-parts"]),
            ("other-hazards-look", &["water", "several"]),
            ("cable-to-ground", &["wet-only"]),
            ("conductor-insulation-look", &["wet"]),
            ("disconnect-look", &["water-or-insects", "damp"]),
            ("whip-look", &["water-or-split"]),
            ("wet-hose-insulation", &["whip-or-box"]),
        ],
        over_when: &[("water-dried", "dry"), ("cable-to-ground", "clear")],
        anew: true,
    },
    Danger {
        name: "a short or ground",
        shown_by: &[
            ("unit-to-ground", &["low", "leaks", "whip-low"]),
            ("unit-hot-to-hot", &["line-side", "load-side"]),
            ("cable-to-ground", &["low"]),
            ("compressor-insulation", &["failed", "low"]),
            ("heater-to-frame", &["low"]),
            ("blower-motor-look", &["leaks-to-frame"]),
            ("blower-windings", &["to-frame-or-unlike"]),
            ("fan-motor-windings", &["to-shell"]),
            ("dc-fan-motor-ohms", &["near-zero"]),
            ("interconnect-ohms", &["leaks"]),
            ("unit-wiring-look", &["bare-or-melted"]),
            ("line-to-control-ohms", &["low"]),
            (
                "ground-by-lifting",
                &[
                    "compressor",
                    "outdoor-fan",
                    "crankcase-heater",
                    "heater-element",
                    "blower",
                    "burner-part",
                    "board-or-module",
                    "accessory",
                    "internal-wire",
                ],
            ),
            ("cable-insulation", &["low"]),
            ("one-reset-unit-off", &["opens"]),
            ("wiggle-to-ground", &["dips"]),
            ("wet-hose-insulation", &["motor-or-unit"]),
            ("compressor-windings", &["shorted"]),
            ("capacitor-body-look", &["shorted"]),
            ("crankcase-heater-look", &["reads-to-shell"]),
            ("inverter-diodes", &["shorted"]),
            ("accessories-alone", &["one-is-guilty"]),
        ],
        over_when: &[],
        anew: false,
    },
    Danger {
        name: "a loose or misplaced wire of the line",
        shown_by: &[
            ("changed-wiring-look", &["line-wrong"]),
            ("panel-work-look", &["neutral-loose", "hot-misplaced"]),
            ("shore-volts-along", &["wrong-at-pedestal"]),
            ("neutral-to-ground-running", &["far-too-many"]),
            ("transfer-switch-look", &["neutral-missing"]),
            ("interconnect-look", &["loose-or-wrong"]),
            ("contactor-joint-drop", &["open"]),
            ("whip-look", &["pulled-or-sunk"]),
            ("disconnect-look", &["lug-loose"]),
            ("service-switch-look", &["hot-nut-loose", "white-loose"]),
            ("splices-look", &["hot-loose", "white-loose"]),
            ("unit-terminals-pull", &["line-nut-loose"]),
        ],
        over_when: &[],
        anew: false,
    },
    Danger {
        name: "a failing neutral or leg",
        shown_by: &[
            ("voltage-log", &["opposite-swings"]),
            ("leg-1-voltage", &["far-too-low", "far-too-high"]),
            ("leg-2-voltage", &["far-too-low", "far-too-high"]),
            ("leg-1-with-load", &["far-too-low", "far-too-high"]),
            ("leg-2-with-load", &["far-too-low", "far-too-high"]),
            ("neutral-to-ground-others", &["others-lift-it-far"]),
            ("transfer-switch-volts", &["neutral-off"]),
            ("utility-check", &["found-not-mended"]),
        ],
        over_when: &[("supply-made-good", "mended")],
        anew: true,
    },
    Danger {
        name: "no path to ground",
        shown_by: &[
            (
                "ground-conductor-look",
                &["absent-or-cut", "loose-or-painted", "on-neutral"],
            ),
            ("ground-resistance", &["high"]),
            ("polarity-and-ground", &["both-half"]),
            ("shore-volts-along", &["wrong-at-pedestal"]),
        ],
        over_when: &[("ground-conductor-look", "whole"), ("ground-resistance", "good")],
        anew: true,
    },
    Danger {
        name: "a disconnect that cuts nothing off",
        shown_by: &[("disconnect-look", &["bypassed"])],
        over_when: &[],
        anew: false,
    },
    Danger {
        name: "an unexplained shock",
        shown_by: &[
            ("hazard-look", &["shock-or-tingle"]),
            ("other-hazards-look", &["shock", "several"]),
            ("hazards-this-visit", &["shock", "several"]),
            ("shock-kind", &["hard-shock", "steady-tingle", "tester-only"]),
            ("trouble-since-change", &["shock"]),
        ],
        over_when: &[
            ("metal-volts-breaker-off", "gone"),
            ("ground-conductor-look", "whole"),
            ("ground-resistance", "good"),
            ("unit-to-ground", "open"),
            ("cable-to-ground", "clear"),
        ],
        anew: true,
    },
    Danger {
        name: "live metal",
        shown_by: &[
            ("metal-volts-breaker-off", &["stays", "stays-far"]),
            ("metal-volts-running", &["live", "raised"]),
            ("metal-volts-main-off", &["stays"]),
            ("volts-under-a-small-load", &["holds"]),
        ],
        over_when: &[],
        anew: false,
    },
    Danger {
        name: "metal that was live",
        shown_by: &[
            ("metal-volts-breaker-off", &["stays", "stays-far"]),
            ("metal-volts-running", &["live", "raised"]),
            ("metal-volts-main-off", &["stays"]),
            ("volts-under-a-small-load", &["holds"]),
        ],
        over_when: &[
            ("metal-volts-breaker-off", "gone"),
            ("ground-conductor-look", "whole"),
            ("ground-resistance", "good"),
            ("unit-to-ground", "open"),
            ("cable-to-ground", "clear"),
        ],
        anew: true,
    },
    Danger {
        name: "line voltage on the 24 V side",
        shown_by: &[
            ("control-voltage-unloaded", &["line-volts"]),
            ("control-voltage-loaded", &["line-volts"]),
            ("coil-voltage-called", &["line-volts"]),
            ("secondary-to-cabinet", &["odd"]),
        ],
        over_when: &[("line-to-control-ohms", "open")],
        anew: true,
    },
    Danger {
        name: "a cable that may be shorted",
        shown_by: &[(
            "when-does-it-happen",
            &["at-switch-on", "by-itself-idle", "in-rain-or-damp"],
        )],
        over_when: &[("cable-to-ground", "clear")],
        anew: true,
    },
    Danger {
        name: "a breaker or device that may not open on a fault",
        shown_by: &[
            ("breaker-held-told", &["held-a-short-or-overload"]),
            ("breaker-history", &["will-not-latch-or-soft"]),
            ("plug-reset-try", &["no-trip-on-test"]),
            ("device-load-wires-look", &["wrong"]),
            ("device-type-look", &["breaker-not-listed-or-untied"]),
        ],
        over_when: &[("breaker-made-good", "good")],
        anew: true,
    },
    Danger {
        name: "an opened breaker or fuse",
        shown_by: &[
            (COMPLAINT, &["breaker-opens", "ground-fault-device-opens"]),
            (
                "which-device-opened",
                &[
                    "panel-breaker",
                    "main-or-feeder",
                    "unit-breaker-or-fuse",
                    "gfci",
                    "afci",
                ],
            ),
            ("switch-and-door-look", &["tripped"]),
            ("trouble-since-change", &["device-opens"]),
            ("what-happens-on-source", &["ground-fault-opens"]),
            ("device-when-it-burnt", &["opened"]),
            ("breaker-exchange", &["opens-again"]),
            ("plug-reset-try", &["no-reset-or-opens-off", "opens-with-unit-on"]),
            ("gfci-leakage", &["fault-level"]),
            ("dead-part-sound", &["bang-or-pop"]),
            ("dead-part-sound-now", &["bang-or-pop"]),
            ("sound-at-start", &["bang-or-pop"]),
            ("start-current", &["jumps-far-above"]),
            ("voltage-across-each-fuse", &["open"]),
            ("fuse-look", &["blown", "all-blown"]),
            ("heater-supplies", &["one-open", "reset-before"]),
        ],
        over_when: &[("unit-to-ground", "open"), ("unit-hot-to-hot", "no-short")],
        anew: true,
    },
    Danger {
        name: "gas, or fumes where nothing burns",
        shown_by: &[
            ("hazard-look", &["gas-or-fumes"]),
            ("fuel-hazard-look", &["gas-smell"]),
            ("fuel-this-visit", &["gas-smell"]),
        ],
        over_when: &[("fuel-made-right", "repaired|elsewhere")],
        anew: true,
    },
    Danger {
        name: "flue gas or a carbon monoxide alarm",
        shown_by: &[("fuel-hazard-look", &["fumes"]), ("fuel-this-visit", &["fumes"])],
        over_when: &[
            ("fuel-made-right", "repaired|elsewhere"),
            ("vent-and-air-checked", "clear"),
            ("heat-exchanger-look", "sound"),
        ],
        anew: true,
    },
    Danger {
        name: "oil in the chamber",
        shown_by: &[
            ("fuel-hazard-look", &["oil-in-chamber"]),
            ("fuel-this-visit", &["oil-in-chamber"]),
            ("fuel-made-right", &["oil-left"]),
        ],
        over_when: &[("fuel-made-right", "repaired")],
        anew: true,
    },
    Danger {
        name: "a safety that is bridged",
        shown_by: &[
            ("safety-bridged-look", &["bridged"]),
            ("overload-relay-look", &["bridged"]),
            ("control-fuse", &["bridged"]),
        ],
        over_when: &[("safety-bridged-look", "back")],
        anew: true,
    },
    Danger {
        name: "refrigerant that was lost and nobody knows whether it burns",
        shown_by: &[("standing-pressure", &["empty"]), ("leak-signs-look", &["hiss"])],
        over_when: &[("refrigerant-kind-look", "does-not-burn|burns")],
        anew: false,
    },
    Danger {
        name: "a leak alarm of flammable refrigerant",
        shown_by: &[
            ("leak-board-look", &["leak-alarm"]),
            ("refrigerant-kind-look", &["burns"]),
        ],
        over_when: &[("leak-air-clear", "clear")],
        anew: true,
    },
    Danger {
        name: "a joint that burns under load, moves or does not fit",
        shown_by: &[
            (
                "thermal-scan",
                &[
                    "bus-end",
                    "breaker-screw",
                    "disconnect-lug",
                    "disconnect-jaw-or-fuse",
                    "contactor-or-terminal",
                    "along-conductor",
                    "heater-terminal",
                    "splice-or-plug",
                ],
            ),
            ("breaker-joint-drop", &["burning"]),
            ("breaker-pole-drop", &["burning"]),
            ("disconnect-joint-drop", &["burning"]),
            ("disconnect-pole-drop", &["burning"]),
            ("contactor-joint-drop", &["burning"]),
            ("contactor-pole-drop", &["burning"]),
            ("service-switch-drop", &["burning"]),
            ("main-pole-drop", &["burning"]),
            ("voltage-across-each-fuse", &["burning"]),
            ("breaker-body-heat", &["too-hot"]),
            ("panel-work-look", &["hot-loose"]),
            ("conductor-metal-look", &["aluminium-poor-joint", "fine-strands"]),
            ("shared-hots-compared", &["one-leg"]),
            ("fuse-look", &["blown-in-weak-clip"]),
            ("unit-terminals-pull", &["several-loose"]),
            ("wiggle-and-tap", &["line-splice"]),
            ("interconnect-look", &["splice-bad"]),
            ("interconnect-ohms", &["one-high"]),
            ("disconnect-look", &["second-cable"]),
            ("plug-and-receptacle-look", &["loose-grip"]),
        ],
        over_when: &[("burnt-part-mended", "mended")],
        anew: true,
    },
    Danger {
        name: "electric heat that stays on or runs without air",
        shown_by: &[
            ("sequencer-timing", &["heat-without-blower", "lingers"]),
            ("heater-steps", &["does-not-fall"]),
            ("heat-off-then-cools", &["cools-without-heat"]),
            ("stage-call-volts", &["called-without-thermostat"]),
            ("heat-complaint-kind", &["on-without-call"]),
            ("smell-from-where", &["without-call"]),
            ("heat-with-thermostat-off", &["stays-on"]),
            ("heater-amps-call-off", &["flowing"]),
        ],
        over_when: &[("burnt-part-mended", "mended")],
        anew: true,
    },
    Danger {
        name: "a heat exchanger that leaks or is blocked",
        shown_by: &[
            ("heat-exchanger-look", &["cracked", "blocked"]),
            ("flame-as-blower-starts", &["moves"]),
        ],
        over_when: &[],
        anew: false,
    },
    Danger {
        name: "a boiler low on water",
        shown_by: &[
            ("low-water-look", &["low-or-surging"]),
            ("boiler-water-and-valves", &["water-or-flow"]),
        ],
        over_when: &[("boiler-filled", "right")],
        anew: true,
    },
];

/// Not even dead work at it: the lock does not cut it off.
const FED_FROM_ELSEWHERE: &[Danger] = &[Danger {
    name: "metal that stays live with the unit cut off",
    shown_by: &[
        ("metal-volts-breaker-off", &["stays-far"]),
        ("metal-volts-main-off", &["stays"]),
    ],
    over_when: &[("supply-made-good", "mended")],
    anew: true,
}];

/// They come and go: another answer to the same question does not end them.
const LASTING: [&str; 3] = [
    "metal that was live",
    "a failing neutral or leg",
    "metal that stays live with the unit cut off",
];

/// Close a breaker to see what it does.
const CLOSES: &[&str] = &[
    "one-reset-unit-off",
    "loads-one-at-a-time",
    "ground-wire-amps",
    "metal-volts-running",
];

/// A neutral that is open, burns or is swapped with the hot: it is found with the meter, and nothing is called on it.
const BAD_NEUTRAL: &[(&str, &[&str])] = &[
    ("board-line-voltage", &["hot-but-no-neutral"]),
    ("neutral-to-ground-others", &["own-load-lifts-it-far"]),
    ("polarity-and-ground", &["neutral-far", "reversed"]),
    ("ground-wire-amps", &["many-amps"]),
];

/// A panel that may not open on a fault: nothing heavy is run through it.
const DOUBTFUL_PANEL: &[(&str, &str)] = &[
    ("panel-outside-look", "rust-or-water"),
    ("breaker-pulled-look", "rust-or-deposits"),
    ("breaker-pulled-look", "stab-burnt"),
    ("panel-kind-look", "known-to-fail"),
];

/// What only the burner must not be lit into.
const FIRES: &[Danger] = &[
    Danger {
        name: "an oil burner that failed at its one try",
        shown_by: &[
            ("oil-reset-behaviour", &["no-flame", "poor-flame"]),
            ("fuel-hazard-look", &["oil-in-chamber"]),
            ("fuel-this-visit", &["oil-in-chamber"]),
            ("fuel-made-right", &["oil-left"]),
        ],
        over_when: &[("burner-mended", "mended"), ("fuel-hazard-look", "none")],
        anew: true,
    },
    Danger {
        name: "a flame that rolled out or burned lazy",
        shown_by: &[
            ("rollout-look", &["scorched", "tripped-clean"]),
            ("gas-checked", &["fat-or-lazy"]),
            ("flame-at-failed-try", &["late-with-a-bang"]),
            ("flame-at-failed-try-now", &["late-with-a-bang"]),
        ],
        over_when: &[
            ("vent-and-air-checked", "clear"),
            ("heat-exchanger-look", "sound"),
        ],
        anew: true,
    },
    Danger {
        name: "a burner, damper or limit found unsafe",
        shown_by: &[
            ("orifice-and-conversion-look", &["wrong-or-drilled"]),
            ("gas-input-clocked", &["far-above"]),
            ("limit-temperature", &["too-late"]),
            ("oil-fire-switch-look", &["open-scorched"]),
            ("aquastat-and-damper-ohms", &["damper-stiff-or-switch"]),
            ("aquastat-and-damper-volts", &["across-damper"]),
            ("flame-at-failed-try", &["late-with-a-bang"]),
            ("flame-at-failed-try-now", &["late-with-a-bang"]),
        ],
        over_when: &[("burner-mended", "mended")],
        anew: true,
    },
    Danger {
        name: "a boiler without flow, or its relief valve open",
        shown_by: &[
            ("boiler-water-and-valves", &["hot-no-flow"]),
            ("low-water-look", &["high-or-relief"]),
        ],
        over_when: &[("boiler-flow-restored", "right")],
        anew: true,
    },
];

/// Calls for heat, or lets a call that waits come on: it lights a burner, or heats a boiler, as a step with the burner on does.
const CALLS_HEAT: &[&str] = &[
    "what-runs-now",
    "dead-part-sound-now",
    "board-inputs-outputs",
    "fuse-holds-with",
    "new-fuse-holds",
    "rc-at-blank-display",
    "control-voltage-thermostat",
    "control-voltage-loaded",
    "call-jumper",
    "mode-by-hand",
    "loads-one-by-one",
    "unit-current-running",
    "voltage-at-unit-running",
    "voltage-at-disconnect-running",
    "air-split",
    "air-at-register",
    "known-good-thermostat",
    "wiggle-and-tap",
    "accessory-wires-lifted",
    "shared-loads-off",
    "on-utility-power-now",
    "dries-out",
    "stage-currents",
    "heater-supply-volts",
    "cold-stage-volts",
    "stage-call-volts",
    "register-air",
    "heater-amps",
    "heater-steps",
];

/// Calls all of the electric heat.
const FULL_HEAT: &[&str] = &[
    "stage-currents",
    "heater-supply-volts",
    "stage-call-volts",
    "heater-amps",
    "heater-steps",
    "register-air",
];

/// A limit, roll-out or low-water cut-off opened: which one, is looked at before the burner is lit.
const OPENED: &[(&str, &str)] = &[
    ("fault-memory", "limit-or-rollout"),
    ("safety-chain-at-stop", "limit-or-rollout"),
    ("feed-broken-where", "limit"),
];

/// Something burnt was smelled or told, or smoke set a detector off: over when its place was found or the whole path was looked at
/// dead; what is found there is heat damage.
const SMELLED: &[(&str, &str)] = &[
    ("hazard-look", "burning-or-smoke"),
    ("hazard-look", "over-now"),
    ("hazard-look", "too-hot"),
    ("hazard-look", "heat-damage"),
    ("other-hazards-look", "burnt"),
    ("other-hazards-look", "several"),
    ("smell-from-where", "plastic-unplaced"),
    ("smell-from-where", "heater-soon"),
    ("smell-from-where", "heater-later"),
    ("smell-from-where", "outdoor-unit"),
    ("smell-from-where", "panel-or-outlet"),
    ("smoke-and-automation-look", "alarm"),
];

/// A shock told by where or when it was felt: over when what was felt is known.
const FELT: [&str; 2] = ["shock-felt-where", "shock-felt-when"];

/// How a source may feed the place; nobody having looked, it may feed back or stand indoors.
const FED: [&str; 3] = ["transfer-or-interlock", "cord-to-unit", "inverter-built-in"];

/// A source that is not the utility.
const SOURCES: [&str; 4] = ["open-frame", "portable-inverter", "standby", "battery-inverter"];

/// Starts or runs a motor with live parts open; each test made with the unit running does so too.
const STARTS: &[&str] = &[
    "start-with-good-capacitor",
    "start-current",
    "start-capacitor-current",
    "gauges-at-start",
    "motors-turning",
    "each-load-alone",
    "voltage-at-unit-at-start",
    "voltage-at-panel-at-start",
    "rest-and-restart",
    "restart-delay",
    "alone-on-source",
    "leads-rotated",
    "rotation-by-ear",
    "phase-currents",
    "current-phase-a",
    "current-phase-b",
    "current-phase-c",
    "compressor-running-current",
    "compressor-sound-running",
    "capacitor-applied-voltage",
    "capacitor-lead-current",
    "capacitor-voltage-running",
    "pressures-running",
    "refrigerant-at-stop",
    "charge-look",
    "lines-by-hand",
    "small-pipe-step",
    "reversing-valve-look",
    "defrost-forced",
    "both-together-current",
    "heat-off-then-cools",
    "air-split",
    "air-at-register",
    "outdoor-fan-current",
    "blower-current",
    "unit-current-running",
    "current-at-breaker",
    "current-log",
    "voltage-at-unit-running",
    "voltage-at-disconnect-running",
    "voltage-at-panel-running",
    "breaker-exchange",
    "loads-one-at-a-time",
    "mode-by-hand",
    "call-jumper",
    "known-good-thermostat",
    "board-supply-dip",
    "source-frequency-start",
    "source-and-unit-voltage",
    "breaker-joint-drop",
    "breaker-pole-drop",
    "disconnect-joint-drop",
    "disconnect-pole-drop",
    "contactor-joint-drop",
    "contactor-pole-drop",
    "service-switch-drop",
    "thermal-scan",
    "breaker-body-heat",
    "shore-volts-along",
    "neutral-to-ground-running",
    "metal-volts-running",
    "inverter-supply-window",
    "wiggle-and-tap",
    "warm-and-cool",
    "outdoor-fan-supply",
];

/// Tries a motor once, on whatever the breaker lets through.
const TRIES: &[&str] = &[
    "start-with-good-capacitor",
    "start-current",
    "start-capacitor-current",
    "gauges-at-start",
];

/// A motor that did not start, or whose oil burnt: a grounded one blows its terminal out at the next try.
const HUMMED: &[(&str, &[&str])] = &[
    (COMPLAINT, &["motor-will-not-start"]),
    ("what-runs", &["compressor-dead"]),
    ("what-runs-now", &["compressor-dead"]),
    ("dead-part-sound", &["hums-then-clicks", "hums-on"]),
    ("dead-part-sound-now", &["hums-then-clicks", "hums-on"]),
    ("sound-at-start", &["hums-no-start"]),
    ("start-with-good-capacitor", &["still-hums", "hums-at-low-volts"]),
    ("compressor-sound-running", &["hums-or-clicks-off"]),
    ("motors-turning", &["one-hums"]),
    ("fan-on-runs", &["hums"]),
    ("what-happens-on-source", &["hums-source-holds"]),
    ("start-current", &["stays-high"]),
    ("acid-test", &["acid"]),
];

/// What proves that the legs stay together, lights having brightened.
const LEGS: &[&str] = &[
    "leg-1-voltage",
    "leg-2-voltage",
    "leg-1-with-load",
    "leg-2-with-load",
];

/// Starts or runs motors to see what they do, on whatever the supply is.
const RUNS: &[&str] = &[
    "start-with-good-capacitor",
    "start-current",
    "start-capacitor-current",
    "gauges-at-start",
    "voltage-at-unit-at-start",
    "what-runs-now",
    "dead-part-sound-now",
    "motors-turning",
    "rotation-by-ear",
    "leads-rotated",
    "each-load-alone",
    "fan-on-runs",
    "restart-delay",
    "rest-and-restart",
];

/// A leg or phase that is not there, or far too many volts: motors burn on it. Only another answer ends it.
const WRONG_VOLTS: &[(&str, &[&str])] = &[
    ("voltage-at-unit-rest", &["half", "far-too-high"]),
    ("voltage-at-disconnect-rest", &["half", "far-too-high"]),
    ("voltage-at-panel-rest", &["missing", "far-too-high"]),
    ("voltage-at-unit-running", &["half", "far-too-high"]),
    ("voltage-at-panel-running", &["half", "far-too-high"]),
    ("voltage-at-disconnect-running", &["half", "far-too-high"]),
    ("voltage-across-each-fuse", &["open"]),
    ("board-line-voltage", &["one-hot-only"]),
    ("hots-to-neutral-and-across", &["one-dead"]),
    (
        "contactor-load-side",
        &["half-on-line-side", "missing-on-load-side"],
    ),
    ("contactor-pole-drop", &["open"]),
    ("compressor-at-stop", &["line-side-short"]),
    ("half-dead-look", &["revived-by-240", "half-dead"]),
    ("motors-turning", &["all-hum"]),
    (
        "phase-voltages-at-contactor",
        &["odd-on-line-side", "odd-on-load-side-only"],
    ),
    ("phase-currents", &["one-zero"]),
    ("voltage-phase-ab", &["missing", "far-too-high"]),
    ("voltage-phase-bc", &["missing", "far-too-high"]),
    ("voltage-phase-ca", &["missing", "far-too-high"]),
    ("voltage-unbalance-at-unit", &["do-not-run"]),
    ("current-unbalance-of-motor", &["single-phasing"]),
];

/// Stands among the answers for a further visit.
const VISIT: &str = "visit";

/// One look at all that is looked at before the first flame, and what it says of each where all is well.
const TOGETHER: &str = "before-flame-look";
const ALL_WELL: [(&str, &str); 4] = [
    ("vent-and-air-checked", "clear"),
    ("rollout-look", "not-tripped"),
    ("safety-bridged-look", "none"),
    ("low-water-look", "right"),
];

/// What was answered: by test, the outcome and when, the complaint too; what was, where a test could not be made again; and
/// everything ever answered.
#[derive(Default)]
struct Answered(
    HashMap<String, (String, usize)>,
    HashMap<String, (String, usize)>,
    /// Everything that was answered, what was answered otherwise since, too.
    Vec<(String, String, usize)>,
);

impl Answered {
    fn outcome(&self, test: &str) -> Option<&(String, usize)> {
        self.0.get(test)
    }

    /// Takes an answer, and with it what one look at all of it says of the four it stands for.
    fn take_all(&mut self, test: &str, outcome: Option<&str>, sure: bool, when: usize) {
        if test == TOGETHER {
            let before = self.0.get(test).map(|(_, when)| *when);
            let by_it =
                |of: &Self, look: &str| before.is_some() && of.0.get(look).map(|(_, when)| *when) == before;
            for (look, well) in ALL_WELL {
                if by_it(self, look) {
                    self.0.remove(look);
                }
                let open =
                    !self.1.contains_key(look) && self.outcome(look).is_none_or(|it| it.0 == "unknown");
                if open && sure && outcome == Some("all-well") {
                    self.take(look, Some(well), true, when);
                }
            }
        }
        self.take(test, outcome, sure, when);
    }

    /// Takes an answer. Whoever is not sure has shown a danger all the same, and proved nothing.
    fn take(&mut self, test: &str, outcome: Option<&str>, sure: bool, when: usize) {
        let shows = |outcome: &str| {
            let shown = |(by, outcomes): &(&str, &[&str])| *by == test && outcomes.contains(&outcome);
            DANGERS
                .iter()
                .chain(FIRES)
                .chain(FED_FROM_ELSEWHERE)
                .any(|danger| danger.shown_by.iter().any(shown))
                || SMELLED.contains(&(test, outcome))
        };
        let counts = outcome.filter(|outcome| sure || shows(outcome));
        if let Some(outcome) = counts {
            self.2.push((test.to_owned(), outcome.to_owned(), when));
        }
        let earlier = self
            .0
            .insert(test.to_owned(), (counts.unwrap_or("unknown").to_owned(), when));
        match (outcome, earlier) {
            (Some(_), _) => {
                self.1.remove(test);
            }
            (None, Some(earlier)) if earlier.0 != "unknown" => {
                self.1.insert(test.to_owned(), earlier);
            }
            _ => {}
        }
    }

    /// One of these dangers that stands, by its name, with the answers that showed it or would end it.
    fn danger(&self, among: &'static [Danger]) -> Option<String> {
        among
            .iter()
            .find(|danger| {
                let seen = danger
                    .shown_by
                    .iter()
                    .flat_map(|(test, outcomes)| {
                        let ever = [self.0.get(*test), self.1.get(*test)].into_iter().flatten();
                        ever.filter(|(outcome, _)| outcomes.contains(&outcome.as_str()))
                            .map(|(_, when)| *when)
                    })
                    .max();
                let shown = |test: &str, outcome: &str| {
                    let by = |(own, outcomes): &&(&str, &[&str])| *own == test && outcomes.contains(&outcome);
                    danger.shown_by.iter().find(by).is_some()
                };
                let ever = self.2.iter().filter(|(test, outcome, _)| {
                    (danger.anew || LASTING.contains(&danger.name)) && shown(test, outcome)
                });
                let Some(seen) = ever.map(|(_, _, when)| *when).chain(seen).max() else {
                    return false;
                };
                danger.over_when.is_empty()
                    || !danger.over_when.iter().all(|(test, good)| {
                        self.outcome(test).is_some_and(|(outcome, when)| {
                            good.split('|').any(|good| good == outcome) && (!danger.anew || *when > seen)
                        })
                    })
            })
            .map(|danger| {
                let about = |test: &str| {
                    let shows = danger.shown_by.iter().any(|(by, _)| *by == test);
                    shows || danger.over_when.iter().any(|(proof, _)| *proof == test)
                };
                let answers: Vec<_> = self.2.iter().filter(|(test, _, _)| about(test)).collect();
                format!("{} ({answers:?})", danger.name)
            })
    }

    /// When a test came out in one of these; nothing where it did not.
    fn shown(&self, test: &str, outcomes: &[&str]) -> Option<usize> {
        let (outcome, when) = self.outcome(test)?;
        outcomes.contains(&outcome.as_str()).then_some(*when)
    }

    fn is(&self, test: &str, good: &str) -> bool {
        self.outcome(test).is_some_and(|(outcome, _)| outcome == good)
    }
}

/// Fails when the test that is asked now may not be made.
fn judge(test: &Test, answered: &Answered, parts: &[String], told: &str) {
    let is_opened = matches!(
        test.state,
        State::LockedOut | State::Running | State::Energised | State::Firing
    );
    if is_opened && test.id != "breaker-poles-ohms" {
        let live = [
            ("breaker-poles-ohms", "closed-with-handle-off"),
            ("breaker-held-told", "live-with-handle-off"),
        ]
        .iter()
        .filter_map(|(test, outcome)| answered.shown(test, &[*outcome]))
        .max();
        let replaced = answered.shown("breaker-poles-ohms", &["all-right"]);
        assert!(
            live.is_none_or(|live| replaced.is_some_and(|replaced| replaced > live)),
            "{told}: `{}` behind a breaker that cuts nothing off",
            test.id
        );
    }
    if is_opened && let Some(danger) = answered.danger(FED_FROM_ELSEWHERE) {
        panic!("{told}: `{}` is {:?} while {danger} stands", test.id, test.state);
    }
    let id = &test.id;
    let doubtful = DOUBTFUL_PANEL
        .iter()
        .filter_map(|(test, outcome)| answered.shown(test, &[*outcome]))
        .max();
    let looked_into = answered.shown("breaker-made-good", &["good"]);
    assert!(
        doubtful.is_none_or(|when| looked_into.is_some_and(|looked| looked > when))
            || !(test.state == State::Running
                || TRIES.contains(&id.as_str())
                || CLOSES[..2].contains(&id.as_str())),
        "{told}: `{id}` through a panel that may not open on a fault"
    );
    if !matches!(test.state, State::Running | State::Energised | State::Firing) {
        return;
    }
    assert!(
        !CLOSES.contains(&id.as_str()) || answered.is("cable-to-ground", "clear"),
        "{told}: `{id}` closes a breaker on a cable nobody has read"
    );
    assert!(
        answered
            .outcome("hazard-look")
            .is_some_and(|(outcome, _)| outcome != "unknown"),
        "{told}: `{id}` before hazards were asked"
    );
    if let Some(danger) = answered.danger(DANGERS) {
        panic!("{told}: `{id}` is {:?} while {danger} stands", test.state);
    }
    if SMELLED.iter().any(|(test, outcome)| answered.is(test, outcome)) {
        assert!(
            answered
                .outcome("burnt-part")
                .is_some_and(|(outcome, _)| outcome != "unknown" && outcome != "nothing-in-sight"),
            "{told}: `{id}` though something burnt was smelled and nobody found it dead"
        );
    }
    if !answered.is("hazard-look", "none") {
        assert!(
            answered
                .outcome("other-hazards-look")
                .is_some_and(|(outcome, _)| outcome != "unknown"),
            "{told}: `{id}` after one hazard, nobody having looked for the others"
        );
    }
    if test.state != State::Energised {
        let bad = BAD_NEUTRAL
            .iter()
            .find(|(test, outcomes)| answered.shown(test, outcomes).is_some());
        assert!(bad.is_none(), "{told}: `{id}` runs on a bad neutral: {bad:?}");
    }
    let known = |test: &str| {
        answered
            .outcome(test)
            .is_some_and(|(outcome, _)| outcome != "unknown")
    };
    assert!(
        !FELT.iter().any(|test| known(test)) || known("shock-kind"),
        "{told}: `{id}` though a shock was told and nobody asked what was felt"
    );
    let on_source = answered.is(COMPLAINT, "on-generator")
        || answered.is("what-starts-it", "generator")
        || SOURCES.iter().any(|kind| answered.is("source-kind-look", kind));
    if let Some(came) = answered.shown(VISIT, &[VISIT]) {
        let burns = parts.iter().any(|own| own == "burner");
        let looks = ["hazards-this-visit", "fuel-this-visit"];
        for look in looks.into_iter().take(1 + usize::from(burns)) {
            assert!(
                answered
                    .outcome(look)
                    .is_some_and(|(outcome, when)| outcome != "unknown" && *when > came),
                "{told}: `{id}` on a further visit before `{look}`"
            );
        }
    }
    assert!(
        !on_source || FED.iter().any(|fed| answered.is("source-set-up-look", fed)),
        "{told}: `{id}` though nobody looked how the source feeds the place"
    );
    let has = |part: &str| parts.iter().any(|own| own == part);
    if test.state == State::Running || STARTS.contains(&id.as_str()) {
        let hummed = HUMMED
            .iter()
            .filter_map(|(test, outcomes)| answered.shown(test, outcomes))
            .max();
        let read = answered.shown("unit-to-ground", &["open"]);
        assert!(
            hummed.is_none_or(|when| read.is_some_and(|read| read > when || when == 0)),
            "{told}: `{id}` runs a motor that hummed or burnt its oil and was not read to ground since"
        );
    }
    let doubted = [
        ("other-trouble-in-building", "lights-brighten-or-swing"),
        ("lights-when-load-starts", "some-brighten"),
    ]
    .iter()
    .any(|(test, outcome)| answered.is(test, outcome));
    assert!(
        !doubted || LEGS.contains(&id.as_str()) || LEGS.iter().all(|leg| answered.outcome(leg).is_some()),
        "{told}: `{id}` while nobody knows whether the legs stay together"
    );
    if RUNS.contains(&id.as_str()) {
        let wrong = WRONG_VOLTS
            .iter()
            .find(|(test, outcomes)| answered.shown(test, outcomes).is_some());
        assert!(
            wrong.is_none(),
            "{told}: `{id}` runs motors on wrong volts: {wrong:?}"
        );
    }
    let calls = CALLS_HEAT.contains(&id.as_str());
    if test.state == State::Firing && has("burner") {
        // What was told there has a danger of its own.
        assert!(
            known("fuel-hazard-look"),
            "{told}: `{id}` fires while fuel is not cleared"
        );
    }
    // Where only heat can be called, any call lights it.
    if has("burner") && (test.state == State::Firing || calls && !has("compressor")) {
        for (part, look) in [
            ("burner", "vent-and-air-checked"),
            ("burner", "safety-bridged-look"),
            ("gas-valve", "rollout-look"),
            ("low-water-cut-off", "low-water-look"),
        ] {
            assert!(
                !has(part) || known(look),
                "{told}: `{id}` lights the burner before `{look}`"
            );
        }
    }
    if FULL_HEAT.contains(&id.as_str()) && has("electric-heat") {
        assert!(
            known("safety-bridged-look") && (!has("low-water-cut-off") || known("low-water-look")),
            "{told}: `{id}` calls all of the heat before its safeties were asked for"
        );
    }
    // Where nothing burns and nothing boils, a call for heat lights nothing.
    let heats = ["burner", "electric-heat", "low-water-cut-off"]
        .iter()
        .any(|part| has(part));
    if test.state == State::Firing || (heats && calls) {
        if let Some(back) = answered
            .shown("safety-bridged-look", &["back"])
            .filter(|_| has("burner"))
        {
            for (part, look, well) in [
                ("burner", "vent-and-air-checked", &["clear", "wind"][..]),
                ("gas-valve", "rollout-look", &["not-tripped"]),
                ("low-water-cut-off", "low-water-look", &["right"]),
            ] {
                assert!(
                    !has(part) || answered.shown(look, well) > Some(back),
                    "{told}: `{id}` lights the burner after a safety was bridged, `{look}` not looked at since"
                );
            }
        }
        assert!(
            !answered.is("vent-and-air-checked", "blocked-or-wet"),
            "{told}: `{id}` fires into a blocked vent"
        );
        assert!(
            !answered.is("draft-at-stop", "marginal")
                || answered.is("vent-and-air-checked", "clear")
                || answered.is("vent-and-air-checked", "wind"),
            "{told}: `{id}` fires at a poor draft, and nobody looked at the vent"
        );
        if let Some(danger) = answered.danger(FIRES) {
            panic!("{told}: `{id}` fires while {danger} stands");
        }
        let opened = OPENED.iter().any(|(test, outcome)| answered.is(test, outcome));
        for (part, look) in [
            ("gas-valve", "rollout-look"),
            ("low-water-cut-off", "low-water-look"),
        ] {
            assert!(
                !opened
                    || !has(part)
                    || answered
                        .outcome(look)
                        .is_some_and(|(outcome, _)| outcome != "unknown"),
                "{told}: `{id}` fires though a limit opened and `{look}` was not made"
            );
        }
    }
    if test.hazard == lineside::knowledge::model::Hazard::ShockAndArc && test.id.contains("panel") {
        assert!(
            answered.is("panel-outside-look", "clean"),
            "{told}: `{id}` opens a panel nobody looked at"
        );
    }
}

fn reply(walk: &Walk<'_>, rng: &mut Rng) -> Reply {
    match walk.question() {
        Question::Complaint | Question::Equipment => unreachable!("answered at the start"),
        Question::Accessories => Reply::CouldNotCheck,
        Question::Caution { .. } => {
            if rng.u8(..12) == 0 {
                Reply::CouldNotCheck
            } else {
                Reply::Accept
            }
        }
        Question::Offer { tests, .. } => {
            let ids = tests.iter().map(|test| KNOWLEDGE.tests[*test].id.as_str());
            some_of(ids, rng)
        }
        Question::Able { among } => some_of(among.iter().map(|ability| ability.word()), rng),
        Question::Halt { .. } | Question::Finish => Reply::Accept,
        Question::Fact { fact, .. } => {
            let fact = &KNOWLEDGE.facts[*fact];
            match (fact.kind, fact.range) {
                _ if rng.u8(..3) == 0 => Reply::CouldNotCheck,
                (ValueKind::Choice, _) => {
                    Reply::Answer(fact.choices[rng.usize(..fact.choices.len())].id.clone())
                }
                (ValueKind::Quantity(kind), Some((low, high))) => {
                    Reply::Answer(between(kind, low, high, rng))
                }
                _ => Reply::CouldNotCheck,
            }
        }
        Question::Test { test, .. } => {
            let test = &KNOWLEDGE.tests[*test];
            match &test.kind {
                _ if rng.u8(..8) == 0 => Reply::CouldNotCheck,
                TestKind::Reading { unit, range, .. } => {
                    Reply::Answer(between(*unit, range.0.max(-1e6), range.1.min(1e6), rng))
                }
                _ => {
                    let outcome = &test.outcomes[chosen(test, rng)].id;
                    let unsure = rng.u8(..8) == 0;
                    Reply::Answer(if unsure {
                        format!("{LEANING_WORD}{outcome}")
                    } else {
                        outcome.clone()
                    })
                }
            }
        }
    }
}

/// Two of three, by chance.
fn some_of<'i>(ids: impl Iterator<Item = &'i str>, rng: &mut Rng) -> Reply {
    let some: Vec<&str> = ids.filter(|_| rng.u8(..3) > 0).collect();
    Reply::Answer(if some.is_empty() {
        NOTHING.to_owned()
    } else {
        some.join(", ")
    })
}

/// Half by the usual shares, so that walks come past the hazards; half evenly, so that they meet the rare.
fn chosen(test: &Test, rng: &mut Rng) -> OutcomeIndex {
    if rng.bool() {
        return OutcomeIndex(rng.usize(..test.outcomes.len()));
    }
    let mut left = rng.f64();
    for (index, outcome) in test.outcomes.indexed() {
        left -= outcome.usual;
        if left <= 0.0 {
            return index;
        }
    }
    OutcomeIndex(test.outcomes.len() - 1)
}

fn between(kind: lineside::quantity::Kind, low: f64, high: f64, rng: &mut Rng) -> String {
    // Small figures as often as large ones: bounds lie at both ends of wide ranges.
    let share = if rng.bool() { rng.f64() } else { rng.f64().powi(8) };
    Quantity::new(kind, low + share * (high - low)).unwrap().exact()
}

/// Somebody comes again.
fn visit() -> Event {
    Event::Visit {
        technician: None,
        program: String::new(),
        knowledge: String::new(),
        learned: None,
    }
}

/// How often a walk goes on where it would conclude, so that what comes late is judged too.
const FURTHER: usize = 4;

/// One walk; the number of questions asked until it would conclude, and altogether.
fn walk_at_random(seed: u64) -> (usize, usize) {
    let mut rng = Rng::with_seed(seed);
    let complaints = KNOWLEDGE.complaints();
    let complaint = &complaints[rng.usize(..complaints.len())].0.id;
    let mut walk = Walk::new(&KNOWLEDGE);
    step(&mut walk, &Reply::Answer(complaint.clone()));
    let equipment = &KNOWLEDGE.equipment[EquipmentIndex(rng.usize(..KNOWLEDGE.equipment.len()))];
    if !try_step(&mut walk, &Reply::Answer(equipment.id.clone())) {
        // Not offered for this complaint.
        return (0, 0);
    }
    let told = format!("seed {seed}, {complaint} on {}", equipment.id);
    let parts = &equipment.parts;
    let mut answered = Answered::default();
    answered.0.insert(COMPLAINT.to_owned(), (complaint.clone(), 0));
    let mut asked = 0;
    let mut concluded = Vec::new();
    for when in 0..MOST_REPLIES {
        if matches!(walk.question(), Question::Halt { .. } | Question::Finish) {
            for candidate in walk.candidates() {
                judge(
                    &KNOWLEDGE.tests[candidate.test],
                    &answered,
                    parts,
                    &format!("{told}, advised"),
                );
            }
            concluded.push(asked);
            let goes_on = matches!(walk.question(), Question::Finish)
                && concluded.len() <= FURTHER
                && try_step(&mut walk, &Reply::Further);
            if goes_on {
                continue;
            }
            return (concluded[0], asked);
        }
        // Somebody comes on another day; or answers anew what was answered before.
        if rng.u8(..60) == 0 && !answered.2.is_empty() {
            walk.apply(&visit()).unwrap();
            answered.0.insert(VISIT.to_owned(), (VISIT.to_owned(), when));
            continue;
        }
        if rng.u8(..20) == 0
            && let Some((test, _, _)) = answered.2.get(rng.usize(..=answered.2.len()))
        {
            let test = &KNOWLEDGE.tests[KNOWLEDGE.test(test).unwrap()];
            let outcome = test.outcomes[chosen(test, &mut rng)].id.clone();
            let anew = Reply::Volunteer {
                test: test.id.clone(),
                answer: Some(outcome.clone()),
            };
            if try_step(&mut walk, &anew) {
                answered.take_all(&test.id, Some(&outcome), true, when);
                continue;
            }
        }
        asked += usize::from(!matches!(
            walk.question(),
            Question::Accessories | Question::Caution { .. }
        ));
        let reply = reply(&walk, &mut rng);
        if let Question::Test { test, .. } = walk.question() {
            let test_now = &KNOWLEDGE.tests[*test];
            judge(test_now, &answered, parts, &told);
            let index = *test;
            step(&mut walk, &reply);
            match (walk.resolution(index), &reply) {
                (lineside::walk::Resolution::Known(outcome), Reply::Answer(text)) => {
                    let outcome = &test_now.outcomes[outcome].id;
                    let sure = !text.starts_with(LEANING_WORD);
                    answered.take_all(&test_now.id, Some(outcome), sure, when);
                }
                _ => answered.take_all(&test_now.id, None, false, when),
            }
        } else if !try_step(&mut walk, &reply) {
            // A figure in the wrong unit, or a choice this equipment does not have.
            step(&mut walk, &Reply::CouldNotCheck);
        }
    }
    panic!("{told}: does not end");
}

fn try_step(walk: &mut Walk<'_>, reply: &Reply) -> bool {
    let Ok(taken) = walk.receive(reply) else {
        return false;
    };
    walk.apply(&taken.event).unwrap();
    true
}

fn step(walk: &mut Walk<'_>, reply: &Reply) {
    assert!(try_step(walk, reply), "{reply:?} to {:?}", walk.question());
}

#[test]
fn random_walks_make_no_powered_step_while_a_danger_stands() {
    let walks = std::env::var("LINESIDE_WALKS")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(WALKS);
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let asked: Vec<(usize, usize)> = std::thread::scope(|scope| {
        let parts: Vec<_> = (0..threads)
            .map(|part| {
                scope.spawn(move || {
                    (part..walks)
                        .step_by(threads as usize)
                        .map(walk_at_random)
                        .filter(|(_, asked)| *asked > 0)
                        .collect::<Vec<_>>()
                })
            })
            .collect();
        parts.into_iter().flat_map(|part| part.join().unwrap()).collect()
    });
    let mut until: Vec<usize> = asked.iter().map(|(until, _)| *until).collect();
    until.sort_unstable();
    let (median, most) = (until[until.len() / 2], until[until.len() - 1]);
    let ninth = until[(until.len() * 9).div_ceil(10) - 1];
    let all: usize = asked.iter().map(|(_, all)| all).sum();
    println!(
        "questions until the end: median {median}, nine in ten {ninth}, most {most}; {all} in {} walks that went on",
        asked.len()
    );
    assert!(median <= 20 && most <= 30, "median {median}, most {most}");
    assert!(
        all > 12 * asked.len(),
        "{all} questions: they hardly went anywhere"
    );
}

/// What `judge` asks after in its own words.
const IN_OWN_WORDS: &[(&str, &[&str])] = &[
    ("breaker-poles-ohms", &["closed-with-handle-off"]),
    ("breaker-held-told", &["live-with-handle-off"]),
    ("vent-and-air-checked", &["blocked-or-wet"]),
    ("draft-at-stop", &["marginal"]),
    ("safety-bridged-look", &["back"]),
    ("what-starts-it", &["generator"]),
    ("source-kind-look", &SOURCES),
    ("other-trouble-in-building", &["lights-brighten-or-swing"]),
    ("lights-when-load-starts", &["some-brighten"]),
];

#[test]
fn every_hold_of_the_knowledge_stands_on_a_list_written_by_hand() {
    let several = [BAD_NEUTRAL, HUMMED, WRONG_VOLTS, IN_OWN_WORDS];
    let pairs = [DOUBTFUL_PANEL, OPENED, SMELLED];
    let is_listed = |test: &str, outcome: &str| {
        let shows = |(by, outcomes): &(&str, &[&str])| *by == test && outcomes.contains(&outcome);
        let dangers = DANGERS.iter().chain(FIRES).chain(FED_FROM_ELSEWHERE);
        FELT.contains(&test)
            || dangers.flat_map(|danger| danger.shown_by).any(shows)
            || several.into_iter().flatten().any(shows)
            || pairs.into_iter().flatten().any(|pair| *pair == (test, outcome))
    };
    let (mut forgotten, mut unlisted) = (Vec::new(), BTreeSet::new());
    for (index, hold) in KNOWLEDGE.holds.indexed() {
        // What ends the walk leaves nothing to judge.
        if hold.call.is_some() {
            continue;
        }
        let raised_by: Vec<(&str, &str)> = KNOWLEDGE
            .tests
            .iter()
            .flat_map(|test| test.outcomes.iter().map(move |outcome| (test, outcome)))
            .filter(|(_, outcome)| outcome.raises.contains(&index))
            .map(|(test, outcome)| (test.id.as_str(), outcome.id.as_str()))
            .collect();
        let left = raised_by
            .iter()
            .filter(|(test, outcome)| !is_listed(test, outcome));
        let left: Vec<(&str, &str)> = left.copied().collect();
        if !left.is_empty() && left.len() == raised_by.len() {
            forgotten.push(format!("`{}`, raised by {raised_by:?}", hold.id));
        }
        unlisted.extend(left);
    }
    assert!(
        forgotten.is_empty(),
        "no list of tests/safety_walks.rs has one of the outcomes that raise these holds; add a `Danger` with what ends it to \
         `DANGERS` (it stops every step with power), `FIRES` (the burner) or `FED_FROM_ELSEWHERE` (dead work too); one that stops \
         less gets a list of its own, asked after in `judge`:\n{}",
        forgotten.join("\n")
    );
    assert!(
        unlisted.is_empty(),
        "outcomes raise a hold and stand on no list of tests/safety_walks.rs; add them to `shown_by` of their danger: {unlisted:?}"
    );
}

/// A walk at random seldom meets an outcome that no longer raises its hold; so each is looked up.
#[test]
fn every_outcome_on_a_list_written_by_hand_raises_a_hold_as_strict() {
    let raised_by = |test: &str, outcome: &str| -> Vec<&Hold> {
        let raises = if test == COMPLAINT {
            let tree = KNOWLEDGE
                .tree(outcome)
                .unwrap_or_else(|| panic!("no complaint `{outcome}`"));
            &KNOWLEDGE.trees[tree].raises
        } else {
            let known = KNOWLEDGE.test(test).unwrap_or_else(|| panic!("no test `{test}`"));
            let known = &KNOWLEDGE.tests[known];
            let outcome = known
                .outcome(outcome)
                .unwrap_or_else(|| panic!("no outcome `{test}/{outcome}`"));
            &known.outcomes[outcome].raises
        };
        raises.iter().map(|hold| &KNOWLEDGE.holds[*hold]).collect()
    };
    let mut weak = Vec::new();
    let power = [State::Running, State::Energised, State::Firing];
    for (dangers, stopped) in [
        (DANGERS, &power[..]),
        (FIRES, &power[2..]),
        (FED_FROM_ELSEWHERE, &power[..]),
    ] {
        for danger in dangers {
            for (test, outcome) in all_of(danger.shown_by) {
                let raised = raised_by(test, outcome);
                let stops = |state: &State| raised.iter().any(|hold| hold.stops.contains(state));
                // What clears them all is no less than what ends the danger; where nothing clears one, only another answer does.
                let clears = |proof: &str| {
                    let by = |hold: &&Hold| {
                        let mut proofs = hold.cleared_by.iter();
                        proofs.any(|(test, _)| KNOWLEDGE.tests[*test].id == proof)
                    };
                    raised.iter().any(by)
                };
                let lasts = raised.iter().any(|hold| hold.cleared_by.is_empty());
                let as_strict = stopped.iter().all(stops)
                    && (lasts
                        || !danger.over_when.is_empty()
                            && danger.over_when.iter().all(|(proof, _)| clears(proof)));
                if !as_strict && raised.iter().all(|hold| hold.call.is_none()) {
                    weak.push(format!("{test}/{outcome}: {}", danger.name));
                }
            }
        }
    }
    let several = [BAD_NEUTRAL, HUMMED, WRONG_VOLTS, IN_OWN_WORDS];
    let others = several.into_iter().flat_map(all_of);
    let pairs = [DOUBTFUL_PANEL, OPENED, SMELLED].into_iter().flatten().copied();
    let none = others
        .chain(pairs)
        .filter(|(test, outcome)| raised_by(test, outcome).is_empty());
    weak.extend(none.map(|(test, outcome)| format!("{test}/{outcome}: nothing")));
    assert!(
        weak.is_empty(),
        "these raise no hold that stops as much and ends as late as the danger they show:\n{}",
        weak.join("\n")
    );
}

/// Each outcome of a list with its test.
fn all_of(
    list: &'static [(&'static str, &'static [&'static str])],
) -> impl Iterator<Item = (&'static str, &'static str)> {
    list.iter()
        .flat_map(|(test, outcomes)| outcomes.iter().map(|outcome| (*test, *outcome)))
}
