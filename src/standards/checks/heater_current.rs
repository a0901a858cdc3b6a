//! What an electric heater should draw at the voltage that is there, against what it does draw.
//!
//! Its resistance is taken to be the same hot and cold, where nickel-chromium changes by about 5 %; three-phase
//! elements are taken as balanced.

use super::prelude::*;

/// A heater may be so far from its label either way before it counts as low or high: common practice, no source.
const TOLERANCE: f64 = 0.10;

calculation! {
    "heater-current": "Current, power and ohms of electric heat at the voltage present";
    inputs {
        HEATER_POWER "P_rated" = Power("heater-power", "Rated power of the heater on the circuit measured.")
            .between(1.0, 1e6);
        HEATER_RATED_VOLTAGE "V_rated" = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
        SUPPLY = Voltage("supply-voltage", "Voltage at the heater while it heats.")
            .or_same_as("heater-rated-voltage").read();
        MEASURED_CURRENT "I_measured" = Current("measured-current", "Current of the heater alone, blower not counted.")
            .between(0.0, 3000.0).optional().read();
        PHASES;
        METER_ERROR;
    }
    outputs {
        EXPECTED_CURRENT = Current("expected-current", "Line current at the voltage present.");
        EXPECTED_POWER = Power("expected-power", "Power at the voltage present.");
        POWER_SHARE = Ratio("power-share", "That power over the rated one.");
        ELEMENT_RESISTANCE = Resistance("element-resistance", "Resistance of the elements together.");
    }
    verdicts {
        AS_EXPECTED = plain("as-expected", "The current is within 10 % of what the label gives at this voltage.");
        LOW = plain("low", "The current is more than 10 % below: an element or its circuit is open.");
        HIGH = plain("high", "The current is more than 10 % above: another kit, or another load on the circuit.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (rated_power, rated_voltage) = (sheet.need(HEATER_POWER)?, sheet.need(HEATER_RATED_VOLTAGE)?);
    let voltage = sheet.need(SUPPLY)?.named("V");
    let (three, _) = phase_factor(&sheet);
    // Twice the rating is a 120 V heater on 240 V, which is met; more is a misread figure.
    if voltage.exceeds(rated_voltage * 2.5) {
        return Err(contradiction(format!(
            "`supply-voltage` {voltage} is more than two and a half times `heater-rated-voltage` {rated_voltage}; no element outlives that, so read both again"
        )));
    }
    let power = (voltage / rated_voltage).squared();
    let power = sheet.work("P", rated_power * power);
    let current = line_current(&mut sheet, power, voltage, three);
    let ohms = sheet.work("R", rated_voltage.squared() / rated_power);
    sheet.output(EXPECTED_CURRENT, current);
    sheet.output(EXPECTED_POWER, power);
    sheet.output(POWER_SHARE, power / rated_power);
    sheet.output(ELEMENT_RESISTANCE, ohms);
    sheet.source("Ohm's law; Applied voltage versus rated voltage - https://www.tutco.com/resources/engineer-insight/ask-ian-applied-voltage-vs.-rated-voltage/");
    if voltage.exceeds(rated_voltage * (1.0 + TOLERANCE)) {
        sheet.note("the supply is more than 10 % above the heater's rated voltage: check the label before leaving it on");
    }
    let Some(measured) = sheet.maybe(MEASURED_CURRENT) else {
        return sheet.cannot_tell(format!(
            "at {voltage} the heater should draw {current} and give {power}; clamp it to compare"
        ));
    };
    // A current is compared at the voltage it was read at, never at one that was made up.
    if !sheet.is_given(SUPPLY) {
        return Err(sheet.missing(SUPPLY));
    }
    let (low, high) = (current * (1.0 - TOLERANCE), current * (1.0 + TOLERANCE));
    sheet.at_least("current", measured, low, COMMON);
    sheet.at_most("current", measured, high, COMMON);
    let part = sheet.work("share", measured / current);
    let compared = format!("{measured} measured, {current} expected at {voltage}");
    if low.exceeds(measured) {
        let missing = Quantity::ratio(1.0 - part.number());
        return sheet.verdict(LOW, format!("{compared}: {missing} of the heat is not drawing"));
    }
    if measured.exceeds(high) {
        return sheet.verdict(HIGH, format!("{compared}: more than this heater can draw"));
    }
    sheet.verdict(AS_EXPECTED, format!("{compared}: all of the heat is drawing"))
}
