//! The circuit of a room air conditioner on a cord and plug.

use super::prelude::*;

calculation! {
    "room-unit-circuit": "Circuit of a room air conditioner on a cord and plug: 80 % alone, 50 % shared";
    rules "room-ac";
    inputs {
        UNIT_RUNNING_CURRENT "I" = Current("unit-running-current", "Current on the unit's label.").optional();
        UNIT_APPARENT_POWER "VA" = ApparentPower("unit-apparent-power", "Volt-amperes of the unit, where the label gives those.")
            .between(1.0, 20_000.0).optional();
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the unit.").optional();
        CIRCUIT_USE = OneOf<CircuitUse>("circuit-use", "Whether anything else is on the circuit.").or("alone");
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

choice! { CircuitUse { Alone = "alone", Shared = "shared" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = match (
        sheet.maybe(UNIT_RUNNING_CURRENT),
        sheet.maybe(UNIT_APPARENT_POWER),
    ) {
        (Some(current), _) => current,
        (None, Some(power)) => sheet.work("I", power / sheet.need(SUPPLY)?),
        (None, None) => return Err(sheet.missing(UNIT_RUNNING_CURRENT)),
    };
    let part = match sheet.need_one(CIRCUIT_USE)? {
        CircuitUse::Shared => 0.5,
        CircuitUse::Alone => 0.8,
    };
    let part = Known::fixed(Ratio::of(part));
    sheet.output(UNIT_CURRENT, current);
    let least = Known::fixed((current / part).value());
    let put_in = format!("{} / {}", keyed(current), keyed_number(part.number()));
    sheet.line("circuit >= I / share", put_in, keyed(least));
    sheet.output(LEAST_CIRCUIT, least);
    let rule = sheet.rule("room-ac");
    sheet.note("the 80 % and 50 % of 440.62(B) and (C) are from memory");
    if let Some(device) = standard_at_or_above(&mut sheet, least) {
        sheet.output(LEAST_DEVICE, device);
    }
    let Some(device) = sheet.maybe(DEVICE) else {
        let found = format!("{current} needs a circuit of at least {least}");
        return sheet.verdict(WORKED_OUT, found);
    };
    let allowed = Known::fixed((device * part).value());
    sheet.at_most("unit", current, allowed, rule);
    let verdict = if current.exceeds(allowed) {
        TOO_MUCH
    } else {
        WITHIN
    };
    sheet.verdict(
        verdict,
        format!("{current} on a {device} circuit, {allowed} allowed"),
    )
}
