//! The circuit of a room air conditioner on a cord and plug.

use super::prelude::*;

calculation! {
    "room-unit-circuit": "Circuit of a room air conditioner on a cord and plug: 80 % alone, 50 % shared";
    rules "room-ac";
    inputs {
        UNIT_RUNNING_CURRENT = Current("unit-running-current", "Current on the unit's label.").optional();
        UNIT_APPARENT_POWER = ApparentPower("unit-apparent-power", "Volt-amperes of the unit, where the label gives those.")
            .between(1.0, 20_000.0).optional();
        SUPPLY = Voltage("supply-voltage", "Voltage of the unit.").optional();
        CIRCUIT_USE = Choice("circuit-use", "Whether anything else is on the circuit.")
            .among(&["alone", "shared"]).or("alone");
        DEVICE = Current("protective-device-rating", "Device of the circuit, to compare.")
            .between(1.0, 200.0).optional();
        EDITION;
    }
    outputs {
        UNIT_CURRENT = Current("unit-current", "Current of the unit.");
        LEAST_CIRCUIT = Current("least-circuit", "Rating the circuit must have at least.");
        LEAST_DEVICE = Current("least-device", "Smallest standard device.");
    }
    verdicts {
        WORKED_OUT;
        WITHIN = plain("within", "The unit takes no more of the circuit than it may.");
        TOO_MUCH = violation("too-much", "The unit takes more than 80 % (alone) or 50 % (shared) of the circuit.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = match (
        sheet.maybe(UNIT_RUNNING_CURRENT).map(Known::get),
        sheet.maybe(UNIT_APPARENT_POWER).map(Known::get),
    ) {
        (Some(current), _) => current,
        (None, Some(power)) => {
            let voltage: ElectricPotential = sheet
                .maybe(SUPPLY)
                .map(Known::get)
                .ok_or_else(|| sheet.missing(SUPPLY))?;
            sheet.line(
                "I = VA / V",
                format!("{} / {}", keyed(Quantity::apparent(power)), keyed(voltage)),
                keyed(power / voltage),
            );
            power / voltage
        }
        (None, None) => return Err(sheet.missing(UNIT_RUNNING_CURRENT)),
    };
    let part = if sheet.choice(CIRCUIT_USE) == Some("shared") {
        0.5
    } else {
        0.8
    };
    let least = current / part;
    sheet.line(
        "circuit >= I / share",
        format!("{} / {}", keyed(current), keyed_number(part)),
        keyed(least),
    );
    sheet.output(UNIT_CURRENT, current);
    sheet.output(LEAST_CIRCUIT, least);
    let rule = sheet.rule("room-ac");
    sheet.note("the 80 % and 50 % of 440.62(B) and (C) are from memory");
    if let Some(device) = lookup::rating_at_or_above(least) {
        sheet.output(LEAST_DEVICE, device);
        let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
        sheet.line(
            "standard rating at or above",
            format!("{} in {ratings}", keyed(least)),
            keyed(device),
        );
    }
    let Some(device) = sheet.maybe(DEVICE).map(Known::get) else {
        return sheet.verdict(
            WORKED_OUT,
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
        sheet.verdict(TOO_MUCH, found)
    } else {
        sheet.verdict(WITHIN, found)
    }
}
