//! What joints, contacts and wire on the way decide.

use super::super::bench::{Bench, Stage};
use super::super::clock::{DISCOLORS, JOINTS};
use super::super::installation::{Operating, Values};
use super::bounds::LOST;
use super::fitting::{Fitting, read};

/// Where volts are lost: the first place on the way where the drop is what the tests call bad.
pub(super) fn lost_at(bench: &Bench) -> Option<Fitting> {
    let above = |test: &str, bound: f64| read(bench, test).is_some_and(|volts| volts > bound);
    let nominal = bench.installation.plate.volts;
    let values = &bench.installation.values;
    let sound = Values::default();
    // Volts of another kind are lost nowhere, and two hots of one leg have none between them.
    if values.same_leg > 0.0 || values.wrong_volts != 1.0 {
        return None;
    }
    let across = |pairs: &[(&str, &str)]| {
        let lines = 1..=bench.installation.lines();
        bench.at(Stage::Running).is_ok_and(|found| {
            lines.into_iter().any(|line| {
                let volts = |(from, to): &(&str, &str)| {
                    found.volts(&format!("{from}_{line}"), &format!("{to}_{line}"))
                };
                pairs.iter().any(|pair| volts(pair) > LOST)
            })
        })
    };
    let [rest, running] = ["voltage-at-panel-rest", "voltage-at-panel-running"].map(|test| read(bench, test));
    let (rest, running) = (rest?, running?);
    let disconnect = read(bench, "voltage-at-disconnect-running")?;
    // A weak service shows as the compressor starts, long before it shows running.
    let start = read(bench, "voltage-at-panel-at-start").unwrap_or(running);
    let states: &[&str] = if rest < 0.93 * nominal || rest > 1.05 * nominal {
        &["utility", "service", "source"]
    } else if above("main-pole-drop", 0.2) || running < 0.97 * rest || start < 0.94 * rest {
        &["service", "utility", "source"]
    } else if above("breaker-joint-drop", 0.03) || above("breaker-pole-drop", 0.2) {
        &["panel"]
    } else if disconnect < 0.97 * running {
        if values.wire > 1.2 {
            &["whole-length", "branch"]
        } else {
            &["branch"]
        }
    } else if across(&[("splice", "end")])
        || values.cord > sound.cord
        || values.receptacle > sound.receptacle
        || values.service_switch > sound.service_switch
        || values.door_switch > sound.door_switch
    {
        &["branch"]
    } else if above("disconnect-pole-drop", 0.1) || above("disconnect-joint-drop", 0.03) {
        &["disconnect"]
    } else if above("contactor-pole-drop", 0.1)
        || above("contactor-joint-drop", 0.05)
        || values.compressor_terminal > sound.compressor_terminal
        || values.heat_terminal > sound.heat_terminal
        || values.board_contact > sound.board_contact
    {
        &["unit"]
    } else {
        &["nowhere"]
    };
    Some(("lost-at", states))
}

pub(super) fn joint_drop(bench: &Bench) -> Option<Fitting> {
    let bad = [
        ("breaker-joint-drop", 0.1),
        ("breaker-pole-drop", 0.4),
        ("disconnect-pole-drop", 0.3),
        ("disconnect-joint-drop", 0.1),
        ("contactor-pole-drop", 0.5),
        ("contactor-joint-drop", 0.05),
        ("relay-contact-drop", 0.5),
    ];
    let (values, sound) = (&bench.installation.values, Values::default());
    let mut any = false;
    // Joints no test of this list spans.
    let beside = values.heat_terminal > sound.heat_terminal
        || values.splice > sound.splice
        || values.service_hot > sound.service_hot
        || values.branch_neutral > sound.branch_neutral;
    if beside {
        return Some(("joint-drop", &["high"]));
    }
    for (test, bound) in bad {
        let volts = read(bench, test);
        any |= volts.is_some();
        if volts.is_some_and(|volts| volts > bound) {
            return Some(("joint-drop", &["high"]));
        }
    }
    any.then_some(("joint-drop", &["small"][..]))
}

/// Where heat shows: the joint that runs hottest over its air, if it is hot enough to discolor.
pub(super) fn heat_at(bench: &Bench) -> Option<Fitting> {
    let stages = [Stage::Running, Stage::Heating, Stage::Blowing];
    let found: Vec<_> = stages.iter().filter_map(|stage| bench.at(*stage).ok()).collect();
    let rise = |name: &str, resistance: f64| {
        let watts = |at: &Operating| {
            (1..=3)
                .map(|line| at.watts(&format!("{name}_{line}")))
                .fold(at.watts(name), f64::max)
        };
        resistance * found.iter().map(|at| watts(at)).fold(0.0, f64::max)
    };
    // A long thin drop is warm along its length; only its joint burns.
    let joint = bench.installation.values.service_hot > Values::default().service_hot;
    let (name, hottest) = JOINTS
        .iter()
        .filter(|(name, _)| *name != "drop" || joint)
        .map(|(name, resistance)| (*name, rise(name, *resistance)))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    // The switches of a 120 V unit sit in its splice's place of the circuit; a hot switch is no burnt splice.
    let values = &bench.installation.values;
    let switch = name == "splice" && values.splice < values.door_switch.max(values.service_switch);
    if hottest < DISCOLORS || switch {
        return cool(bench);
    }
    let cord = bench.installation.plate.has("cord-and-plug");
    let states: &[&str] = match name {
        "pole" => &["bus-end"],
        "bterm" => &["breaker-screw"],
        "main" | "drop" => &["meter-or-main"],
        "splice" => &["splice"],
        "lug" => &["disconnect-lug"],
        "jaw" if cord => &["plug"],
        "jaw" => &["disconnect-jaw"],
        "uterm" => &["unit-terminal"],
        "contact" => &["contactor"],
        "cterm" => &["compressor-terminal"],
        "heat_terminal" => &["heater-terminal"],
        _ => &["board"],
    };
    Some(("heat-at", states))
}

/// Where heat may show though no joint is hot enough at the moment: where the fault is, from before, or nowhere.
const COOL: [(&str, &[&str]); 19] = [
    ("door-switch", &["nowhere"]),
    ("service-switch", &["nowhere", "splice"]),
    ("branch-neutral", &["nowhere", "breaker-screw", "splice"]),
    ("cord", &["nowhere", "plug"]),
    ("stab", &["nowhere", "bus-end"]),
    (
        "breaker-terminal",
        &["nowhere", "breaker-screw", "disconnect-lug"],
    ),
    ("service-hot", &["nowhere", "meter-or-main"]),
    ("service-neutral", &["nowhere", "meter-or-main"]),
    ("main-pole", &["nowhere", "meter-or-main"]),
    ("splice", &["nowhere", "splice"]),
    ("wire", &["nowhere", "along-wire", "splice"]),
    ("disconnect-lug", &["nowhere", "disconnect-lug"]),
    ("disconnect-jaw", &["nowhere", "disconnect-jaw", "disconnect-lug"]),
    ("receptacle", &["nowhere", "plug"]),
    ("contact", &["nowhere", "contactor"]),
    ("unit-terminal", &["nowhere", "unit-terminal"]),
    ("compressor-terminal", &["nowhere", "compressor-terminal"]),
    ("heat-terminal", &["nowhere", "heater-terminal"]),
    ("board-contact", &["nowhere", "board"]),
];

fn cool(bench: &Bench) -> Option<Fitting> {
    let values = &bench.installation.values;
    let sound = Values::default();
    let changed = |key: &str| values.get(key) != sound.get(key);
    if let Some((_, states)) = COOL.iter().find(|(key, _)| changed(key)) {
        return Some(("heat-at", states));
    }
    // What changed is no joint: a breaker or a motor may be hot, or whatever burnt on the way.
    let any = Values::KEYS.iter().any(|(key, _)| changed(key));
    any.then_some((
        "heat-at",
        &[
            "nowhere",
            "motor",
            "cabinet-breaker",
            "bus-end",
            "breaker-screw",
            "along-wire",
        ][..],
    ))
}
