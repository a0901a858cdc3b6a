//! The circuit of a room air conditioner on a cord and plug.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "room-unit-circuit",
    title: "Circuit of a room air conditioner on a cord and plug: 80 % alone, 50 % shared",
    inputs: &[
        current("unit-running-current", "Current on the unit's label.").optional(),
        Input::quantity(
            "unit-apparent-power",
            Kind::ApparentPower,
            "Volt-amperes of the unit, where the label gives those.",
        )
        .between(1.0, 20_000.0)
        .optional(),
        voltage("supply-voltage", "Voltage of the unit.").optional(),
        Input::choice(
            "circuit-use",
            &["alone", "shared"],
            "Whether anything else is on the circuit.",
        )
        .or("alone"),
        current("protective-device-rating", "Device of the circuit, to compare.")
            .between(1.0, 200.0)
            .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("unit-current", Kind::Current, "Current of the unit."),
        Output::quantity(
            "least-circuit",
            Kind::Current,
            "Rating the circuit must have at least.",
        ),
        Output::quantity("least-device", Kind::Current, "Smallest standard device."),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("within", "The unit takes no more of the circuit than it may."),
        VerdictKind::violation(
            "too-much",
            "The unit takes more than 80 % (alone) or 50 % (shared) of the circuit.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["room-ac"])?;
    let current = match (
        sheet.maybe::<ElectricCurrent>("unit-running-current"),
        sheet.maybe::<Power>("unit-apparent-power"),
    ) {
        (Some(current), _) => current,
        (None, Some(power)) => {
            let voltage: ElectricPotential = sheet
                .maybe("supply-voltage")
                .ok_or_else(|| sheet.missing("supply-voltage"))?;
            sheet.work(
                "I = VA / V",
                format!("{} / {}", keyed(Quantity::apparent(power)), keyed(voltage)),
                keyed(power / voltage),
            );
            power / voltage
        }
        (None, None) => return Err(sheet.missing("unit-running-current")),
    };
    let part = if sheet.choice("circuit-use") == Some("shared") {
        0.5
    } else {
        0.8
    };
    let least = current / part;
    sheet.work(
        "circuit >= I / share",
        format!("{} / {}", keyed(current), keyed_number(part)),
        keyed(least),
    );
    sheet.output("unit-current", current);
    sheet.output("least-circuit", least);
    let rule = sheet.rule("room-ac");
    sheet.note("the 80 % and 50 % of 440.62(B) and (C) are from memory");
    if let Some(device) = lookup::rating_at_or_above(least) {
        sheet.output("least-device", device);
        let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
        sheet.work(
            "standard rating at or above",
            format!("{} in {ratings}", keyed(least)),
            keyed(device),
        );
    }
    let Some(device) = sheet.maybe::<ElectricCurrent>("protective-device-rating") else {
        return sheet.verdict(
            "worked-out",
            format!("{} needs a circuit of at least {}", text(current), text(least)),
        );
    };
    let allowed = device * part;
    sheet.at_most("unit", current, allowed, rule);
    let found = format!(
        "{} on a {} circuit, {} allowed",
        text(current),
        text(device),
        text(allowed)
    );
    if exceeds(current, allowed) {
        sheet.verdict("too-much", found)
    } else {
        sheet.verdict("within", found)
    }
}
