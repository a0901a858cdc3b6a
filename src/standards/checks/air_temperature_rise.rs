//! Temperature rise of air across a heater, as a cross-check of its kilowatts.

use super::prelude::*;

calculation! {
    "air-temperature-rise": "Temperature rise of the air from kilowatts and airflow, as a cross-check";
    inputs {
        HEATER_POWER = Power("heater-power", "Power being drawn, volts times amperes.").between(1.0, 1e6);
        AIR_FLOW = AirFlow("air-flow", "Airflow across the heater.").between(0.001, 100.0);
        MEASURED_RISE = Rise("measured-rise", "Supply air less return air, out of sight of the elements.")
            .in_unit("F").between(0.0, 100.0).optional().read();
        HIGHEST_RISE = Rise("highest-rise", "Largest rise on the nameplate.")
            .in_unit("F").between(1.0, 150.0).optional();
    }
    outputs {
        EXPECTED_RISE = Rise("expected-rise", "Rise that power gives to that much air.");
    }
    verdicts {
        WORKED_OUT;
        AGREES = plain("agrees", "The rise measured is within 15 % of it.");
        TOO_SMALL = plain("too-small", "Less rise: more air than thought, or less heat.");
        TOO_LARGE = plain("too-large", "More rise: less air than thought.");
        ABOVE_NAMEPLATE = violation("above-nameplate", "The rise is above the nameplate's largest.");
    }
}

/// Density of standard air times its specific heat: 1.204 kg/m3 x 1006 J/kg K at 20 C and sea level.
const AIR: f64 = 1.204 * 1006.0;

/// No rise a heater lives through is above this, in kelvin: limits open far below it (common practice, no source).
const MOST: f64 = 150.0;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (power, flow) = (sheet.need(HEATER_POWER)?, sheet.need(AIR_FLOW)?);
    // `uom` keeps a rise apart from an absolute temperature, so the quotient is made on base amounts.
    let expected = Known::fixed(Rise::of(power.number() / (AIR * flow.number())));
    let fahrenheit = |rise: Known<Rise>| rise.number() * 1.8;
    let shown = |rise| format!("{rise} ({:.1} F)", fahrenheit(rise));
    if expected.number() > MOST {
        return Err(contradiction(format!(
            "`heater-power` {power} in `air-flow` {flow} would heat the air by {expected} ({:.0} F), and no heater lasts that long: check both and their units",
            fahrenheit(expected)
        )));
    }
    sheet.line(
        "dT = P / (1211 J/m3K x flow)",
        format!("{} / (1211 J/m3K x {})", keyed(power.get()), keyed(flow.get())),
        keyed(expected),
    );
    sheet.line(
        "dT in F = 1.8 x dT",
        format!("1.8 x {}", keyed(expected)),
        format!("{} F", keyed_number(fahrenheit(expected))),
    );
    sheet.output(EXPECTED_RISE, expected);
    sheet.source(
        "heat balance of air at 20 C and sea level; hotter and higher air is thinner, and the rise larger",
    );
    sheet.assume("the airflow is that of standard air");
    let measured = sheet.maybe(MEASURED_RISE);
    if let Some(highest) = sheet.maybe(HIGHEST_RISE) {
        let rise = measured.unwrap_or(expected);
        sheet.at_most("rise", rise, highest, "nameplate of the unit");
        if rise.exceeds(highest) {
            let found = format!(
                "{}, above the {} the nameplate allows",
                shown(rise),
                shown(highest)
            );
            return sheet.verdict(ABOVE_NAMEPLATE, found);
        }
    }
    let Some(measured) = measured else {
        return sheet.verdict(WORKED_OUT, format!("{} of rise", shown(expected)));
    };
    let verdict = match () {
        () if measured.get() > expected.get() * 1.15 => TOO_LARGE,
        () if measured.get() < expected.get() * 0.85 => TOO_SMALL,
        () => AGREES,
    };
    sheet.verdict(
        verdict,
        format!("{} measured, {} expected", shown(measured), shown(expected)),
    )
}
