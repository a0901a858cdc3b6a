//! Voltage across a closed contact, pole or joint, against what is usual, and the heat it makes.

use super::prelude::*;

calculation! {
    "joint-drop": "Millivolts across a closed contact, breaker pole or joint";
    inputs {
        JOINT_VOLTAGE "V" = Voltage("joint-voltage", "Voltage across it with the load running.")
            .in_unit("mV").between(0.0, 300.0).read();
        LOAD_CURRENT "I" = Current("load-current", "Current through it.").between(0.1, 5000.0).read();
        JOINT_KIND = OneOf<JointKind>("joint-kind", "What it is.");
        OTHER_POLE_VOLTAGE "V_other" = Voltage("other-pole-voltage", "The same across the best of the other poles.")
            .in_unit("mV").between(0.0, 300.0).optional();
        METER_ERROR;
    }
    outputs {
        JOINT_RESISTANCE "R" = Resistance("joint-resistance", "Ohms of it.");
        JOINT_HEAT "P" = Power("joint-heat", "Heat it makes.");
        POLE_SPREAD "spread" = Ratio("pole-spread", "How much more than the other pole.");
    }
    verdicts {
        GOOD = plain("good", "As little as in good order.");
        INVESTIGATE = plain("investigate", "More than usual, or half as much again as the other pole.");
        BAD = plain("bad", "So much that it must be repaired or replaced.");
    }
}

choice! { JointKind { Screw = "screw-joint", ContactorPole = "contactor-pole", BreakerPole = "breaker-pole" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (across, current) = (sheet.need(JOINT_VOLTAGE)?, sheet.need(LOAD_CURRENT)?);
    sheet.give(JOINT_RESISTANCE, across / current);
    let warmth = sheet.give(JOINT_HEAT, across * current);
    let (good, bad, burning) = match sheet.need_one(JOINT_KIND)? {
        JointKind::ContactorPole => (0.1, 0.5, 2.0),
        JointKind::BreakerPole => (0.2, 0.5, 1.0),
        JointKind::Screw => (0.03, 0.1, 0.5),
    };
    let (good, bad) = (Known::fixed(volts(good)), Known::fixed(volts(bad)));
    if across.get() > volts(burning) {
        sheet.note("off now: it burns while it carries the load; nothing is run through it before it is remade or replaced, dead");
    }
    sheet.at_most("drop, good order", across, good, COMMON);
    sheet.at_most("drop", across, bad, COMMON);
    sheet.source("Breaker maker's bulletin, over 50 % above the lowest pole means investigate; NEMA AB 4, millivolt drop is an indicator and not the only ground for rejection - https://studylib.net/doc/18232099/this-test-is-described-in-section-5.4-of-nema-ab");
    sheet.source(format!(
        "{COMMON}: volts for each kind of joint; they mean something only at a stated current"
    ));
    let mut spread = false;
    if let Some(other) = sheet
        .maybe(OTHER_POLE_VOLTAGE)
        .filter(|other| other.number() > 0.0)
    {
        let (across, other) = (across.as_read(), other.as_read());
        let more = sheet.give(POLE_SPREAD, (across - other) / other);
        spread = exceeds(more.number(), 0.5);
    }
    let verdict = match () {
        () if across.exceeds(bad) => BAD,
        () if across.exceeds(good) || spread => INVESTIGATE,
        () => GOOD,
    };
    sheet.verdict(verdict, format!("{across} at {current}, {warmth} of heat"))
}
