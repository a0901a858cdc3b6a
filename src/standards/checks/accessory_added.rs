//! A heater or a motor added to a unit that has a nameplate of its own, on one supply.

use super::prelude::*;

calculation! {
    "accessory-added": "Minimum circuit ampacity of a unit with a heater or motor added on the same supply";
    rules "product-mca", "combination-load-conductors";
    inputs {
        UNIT_MINIMUM_CIRCUIT_AMPACITY "MCA_unit" = Current("unit-minimum-circuit-ampacity", "Minimum circuit ampacity of the unit alone.");
        UNIT_MAXIMUM_OVERCURRENT_PROTECTION = Current("unit-maximum-overcurrent-protection", "Maximum device of the unit alone.")
            .optional();
        HEATER_CURRENT "heater" = Current("heater-current", "Current of electric heat that may run with the unit.")
            .optional();
        MOTOR_CURRENTS "sum of motors" = List<Current>("motor-currents", "Full-load current of each motor added.")
            .between(0.01, 1000.0).optional();
        EDITION;
    }
    outputs {
        MCA "MCA" = Current("minimum-circuit-ampacity", "Minimum circuit ampacity of all together.");
        MOP = Current("maximum-overcurrent-protection", "Maximum device, when the unit's is given.");
    }
    verdicts {
        WORKED_OUT;
        MAXIMUM_STAYS = plain("maximum-stays", "The marked maximum device still covers the new minimum.");
        MAXIMUM_TOO_SMALL = plain("maximum-too-small", "The new minimum is above the marked maximum: ask the maker for a new marking.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let unit = sheet.need(UNIT_MINIMUM_CIRCUIT_AMPACITY)?;
    let (heater, motors) = (sheet.maybe(HEATER_CURRENT), sheet.list(MOTOR_CURRENTS));
    if heater.is_none() && motors.is_empty() {
        return Err(sheet.missing(HEATER_CURRENT));
    }
    let heater = heater.unwrap_or(Known::called("heater", amps(0.0)));
    let ampacity = sheet.give(MCA, unit + 1.25 * heater + motors.sum());
    let rule = sheet.rule("product-mca");
    sheet.rule("combination-load-conductors");
    let found = format!("unit and additions together need {ampacity}");
    let Some(most) = sheet.maybe(UNIT_MAXIMUM_OVERCURRENT_PROTECTION) else {
        return sheet.verdict(WORKED_OUT, found);
    };
    if unit.exceeds(most) {
        return Err(contradiction(format!(
            "`unit-minimum-circuit-ampacity` {unit} is above `unit-maximum-overcurrent-protection` {most}; read both lines again"
        )));
    }
    sheet.at_most("new minimum", ampacity, most, rule);
    sheet.output(MOP, most);
    if ampacity.exceeds(most) {
        sheet.verdict(
            MAXIMUM_TOO_SMALL,
            format!("{found}, above the marked maximum of {most}"),
        )
    } else {
        sheet.verdict(
            MAXIMUM_STAYS,
            format!("{found}, which the marked maximum of {most} covers"),
        )
    }
}
