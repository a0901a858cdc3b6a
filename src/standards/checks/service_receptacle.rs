//! The receptacle a service technician needs near the equipment.

use super::prelude::*;
use uom::si::length::foot;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "service-receptacle",
    title: "Service receptacle near the equipment: distance, level, protection",
    inputs: &[
        Input::quantity(
            "distance",
            Kind::Length,
            "Distance from the equipment to the nearest 125 V receptacle.",
        )
        .between(0.0, 10_000.0),
        Input::choice("same-level", &["yes", "no"], "Whether it is on the same level."),
        Input::choice(
            "ground-fault-protected",
            &["yes", "no"],
            "Whether a ground-fault device protects it.",
        )
        .optional(),
        Input::choice(
            "behind-disconnect",
            &["yes", "no"],
            "Whether it is fed from the load side of the unit's disconnect.",
        )
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[Output::quantity("farthest", Kind::Length, "Farthest it may be.")],
    verdicts: &[
        VerdictKind::plain("there", "It is there as it must be, as far as given."),
        VerdictKind::violation("missing", "None within 25 ft on the same level."),
        VerdictKind::violation(
            "wrongly-fed",
            "It is fed from the load side of the unit's disconnect.",
        ),
        VerdictKind::violation("unprotected", "It has no ground-fault protection."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["service-receptacle"])?;
    let distance: Length = sheet.need("distance")?;
    let farthest = Length::new::<foot>(25.0);
    let rule = sheet.rule("service-receptacle");
    sheet.output("farthest", farthest);
    sheet.work(
        "distance <= 25 ft",
        format!("{} <= 25 ft", keyed(distance)),
        holds(!exceeds(distance, farthest)),
    );
    sheet.at_most("distance", distance, farthest, rule);
    sheet.note("one- and two-family evaporative coolers are excepted");
    if exceeds(distance, farthest) || sheet.choice("same-level") == Some("no") {
        return sheet.verdict(
            "missing",
            format!(
                "the nearest receptacle is {} away; within 25 ft on the same level is asked for",
                text(distance)
            ),
        );
    }
    if sheet.choice("behind-disconnect") == Some("yes") {
        return sheet.verdict(
            "wrongly-fed",
            "opening the disconnect takes the technician's power too",
        );
    }
    // Ground-fault protection of this receptacle wherever it is came with the 2020 edition.
    if sheet.choice("ground-fault-protected") == Some("no") {
        if sheet.edition >= super::super::Edition::E2020 {
            return sheet.verdict("unprotected", "a ground-fault device must protect it");
        }
        sheet.note(format!(
            "edition {} asks for ground-fault protection only where its place does, such as outdoors",
            sheet.edition
        ));
    }
    sheet.verdict("there", format!("{} away", text(distance)))
}
