//! Voltage across a closed contact, pole or joint, against what is usual, and the heat it makes.

use super::prelude::*;
use crate::electrical::joint::heat;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "joint-drop",
    title: "Millivolts across a closed contact, breaker pole or joint",
    inputs: &[
        Input::quantity(
            "joint-voltage",
            Kind::Voltage,
            "Voltage across it with the load running.",
        )
        .in_unit("mV")
        .between(0.0, 300.0)
        .read(),
        current("load-current", "Current through it.")
            .between(0.1, 5000.0)
            .read(),
        Input::choice(
            "joint-kind",
            &["screw-joint", "contactor-pole", "breaker-pole"],
            "What it is.",
        ),
        Input::quantity(
            "other-pole-voltage",
            Kind::Voltage,
            "The same across the best of the other poles.",
        )
        .in_unit("mV")
        .between(0.0, 300.0)
        .optional(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("joint-resistance", Kind::Resistance, "Ohms of it."),
        Output::quantity("joint-heat", Kind::Power, "Heat it makes."),
        Output::quantity("pole-spread", Kind::Ratio, "How much more than the other pole."),
    ],
    verdicts: &[
        VerdictKind::plain("good", "As little as in good order."),
        VerdictKind::plain(
            "investigate",
            "More than usual, or half as much again as the other pole.",
        ),
        VerdictKind::plain("bad", "So much that it must be repaired or replaced."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let across: ElectricPotential = sheet.need("joint-voltage")?;
    let current: ElectricCurrent = sheet.need("load-current")?;
    let resistance = across / current;
    let warmth = heat(resistance, current);
    sheet.work(
        "R = V / I",
        format!("{} / {}", keyed(across), keyed(current)),
        keyed(resistance),
    );
    sheet.work(
        "P = V x I",
        format!("{} x {}", keyed(across), keyed(current)),
        keyed(warmth),
    );
    sheet.output("joint-resistance", resistance);
    sheet.output("joint-heat", warmth);
    let (good, bad) = match sheet.choice("joint-kind") {
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
        .maybe::<ElectricPotential>("other-pole-voltage")
        .filter(|other| *other > volts(0.0))
    {
        let more = share(across - other, other);
        sheet.output("pole-spread", Quantity::ratio(more));
        sheet.work(
            "spread = (V - V_other) / V_other",
            format!("({} - {}) / {}", as_read(across), as_read(other), as_read(other)),
            keyed(Quantity::ratio(more)),
        );
        spread = exceeds(more, 0.5);
    }
    let found = format!("{} at {}, {} of heat", text(across), text(current), text(warmth));
    if exceeds(across, bad) {
        sheet.verdict("bad", found)
    } else if exceeds(across, good) || spread {
        sheet.verdict("investigate", found)
    } else {
        sheet.verdict("good", found)
    }
}
