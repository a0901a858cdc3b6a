//! Temperature rise of air across a heater, as a cross-check of its kilowatts.

use super::prelude::*;
use uom::si::temperature_interval::kelvin;
use uom::si::volume_rate::cubic_meter_per_second;

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
    let power = sheet.need(HEATER_POWER)?.get();
    let flow = sheet.need(AIR_FLOW)?.get();
    let expected = TemperatureInterval::new::<kelvin>(
        power.get::<watt>() / (AIR * flow.get::<cubic_meter_per_second>()),
    );
    if expected.get::<kelvin>() > MOST {
        return Err(InputError::Contradiction {
            what: format!(
                "`heater-power` {} in `air-flow` {} would heat the air by {} ({:.0} F), and no heater lasts that long: check both and their units",
                text(power),
                text(flow),
                text(expected),
                expected.get::<kelvin>() * 1.8
            ),
        });
    }
    let in_fahrenheit = |rise: TemperatureInterval| rise.get::<kelvin>() * 1.8;
    let shown = |rise: TemperatureInterval| format!("{} ({:.1} F)", text(rise), in_fahrenheit(rise));
    sheet.line(
        "dT = P / (1211 J/m3K x flow)",
        format!("{} / (1211 J/m3K x {})", keyed(power), keyed(flow)),
        keyed(expected),
    );
    sheet.line(
        "dT in F = 1.8 x dT",
        format!("1.8 x {}", keyed(expected)),
        format!("{} F", keyed_number(in_fahrenheit(expected))),
    );
    sheet.output(EXPECTED_RISE, expected);
    sheet.source(
        "heat balance of air at 20 C and sea level; hotter and higher air is thinner, and the rise larger",
    );
    sheet.assume("the airflow is that of standard air");
    let measured = sheet.maybe(MEASURED_RISE).map(Known::get);
    let highest = sheet.maybe(HIGHEST_RISE).map(Known::get);
    if let Some(highest) = highest {
        let rise = measured.unwrap_or(expected);
        sheet.at_most("rise", rise, highest, "nameplate of the unit");
        if rise > highest * (1.0 + 1e-9) {
            return sheet.verdict(
                ABOVE_NAMEPLATE,
                format!(
                    "{}, above the {} the nameplate allows",
                    shown(rise),
                    shown(highest)
                ),
            );
        }
    }
    let Some(measured) = measured else {
        return sheet.verdict(WORKED_OUT, format!("{} of rise", shown(expected)));
    };
    let found = format!("{} measured, {} expected", shown(measured), shown(expected));
    if measured > expected * 1.15 {
        sheet.verdict(TOO_LARGE, found)
    } else if measured < expected * 0.85 {
        sheet.verdict(TOO_SMALL, found)
    } else {
        sheet.verdict(AGREES, found)
    }
}
