//! Voltage across a closed contact, pole or joint, against what is usual, and the heat it makes.

use super::prelude::*;
use crate::electrical::joint::heat;

calculation! {
    "joint-drop": "Millivolts across a closed contact, breaker pole or joint";
    inputs {
        JOINT_VOLTAGE = Voltage("joint-voltage", "Voltage across it with the load running.")
            .in_unit("mV").between(0.0, 300.0).read();
        LOAD_CURRENT = Current("load-current", "Current through it.").between(0.1, 5000.0).read();
        JOINT_KIND = Choice("joint-kind", "What it is.")
            .among(&["screw-joint", "contactor-pole", "breaker-pole"]);
        OTHER_POLE_VOLTAGE = Voltage("other-pole-voltage", "The same across the best of the other poles.")
            .in_unit("mV").between(0.0, 300.0).optional();
        METER_ERROR;
    }
    outputs {
        JOINT_RESISTANCE = Resistance("joint-resistance", "Ohms of it.");
        JOINT_HEAT = Power("joint-heat", "Heat it makes.");
        POLE_SPREAD = Ratio("pole-spread", "How much more than the other pole.");
    }
    verdicts {
        GOOD = plain("good", "As little as in good order.");
        INVESTIGATE = plain("investigate", "More than usual, or half as much again as the other pole.");
        BAD = plain("bad", "So much that it must be repaired or replaced.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let across = sheet.need(JOINT_VOLTAGE)?.get();
    let current = sheet.need(LOAD_CURRENT)?.get();
    let resistance = across / current;
    let warmth = heat(resistance, current);
    sheet.line(
        "R = V / I",
        format!("{} / {}", keyed(across), keyed(current)),
        keyed(resistance),
    );
    sheet.line(
        "P = V x I",
        format!("{} x {}", keyed(across), keyed(current)),
        keyed(warmth),
    );
    sheet.output(JOINT_RESISTANCE, resistance);
    sheet.output(JOINT_HEAT, warmth);
    let (good, bad) = match sheet.choice(JOINT_KIND) {
        Some("contactor-pole") => (0.1, 0.5),
        Some("breaker-pole") => (0.2, 0.5),
        _ => (0.03, 0.1),
    };
    let (good, bad) = (volts(good), volts(bad));
    sheet.at_most("drop, good order", across, good, COMMON);
    sheet.at_most("drop", across, bad, COMMON);
    sheet.source("Breaker maker's bulletin, over 50 % above the lowest pole means investigate; NEMA AB 4, millivolt drop is an indicator and not the only ground for rejection - https://studylib.net/doc/18232099/this-test-is-described-in-section-5.4-of-nema-ab");
    sheet.source(format!(
        "{COMMON}: volts for each kind of joint; they mean something only at a stated current"
    ));
    let mut spread = false;
    if let Some(other) = sheet
        .maybe(OTHER_POLE_VOLTAGE)
        .map(Known::get)
        .filter(|other| *other > volts(0.0))
    {
        let more = share(across - other, other);
        sheet.output(POLE_SPREAD, Quantity::ratio(more));
        sheet.line(
            "spread = (V - V_other) / V_other",
            format!("({} - {}) / {}", as_read(across), as_read(other), as_read(other)),
            keyed(Quantity::ratio(more)),
        );
        spread = exceeds(more, 0.5);
    }
    let found = format!("{} at {}, {} of heat", text(across), text(current), text(warmth));
    if exceeds(across, bad) {
        sheet.verdict(BAD, found)
    } else if exceeds(across, good) || spread {
        sheet.verdict(INVESTIGATE, found)
    } else {
        sheet.verdict(GOOD, found)
    }
}
