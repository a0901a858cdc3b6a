//! What an electric heater should draw at the voltage that is there, against what it does draw.

use super::prelude::*;
use crate::electrical::heater::{Feed, current_at, power_at, resistance};

/// A heater may be so far from its label either way before it counts as low or high: common practice, no source.
const TOLERANCE: f64 = 0.10;
const SOURCE: &str = "common practice, no source";

calculation! {
    "heater-current": "Current, power and ohms of electric heat at the voltage present";
    inputs {
        HEATER_POWER = Power("heater-power", "Rated power of the heater on the circuit measured.")
            .between(1.0, 1e6);
        HEATER_RATED_VOLTAGE = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
        SUPPLY = Voltage("supply-voltage", "Voltage at the heater while it heats.")
            .or_same_as("heater-rated-voltage").read();
        MEASURED_CURRENT = Current("measured-current", "Current of the heater alone, blower not counted.")
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
    let rated_power = sheet.need(HEATER_POWER)?.get();
    let rated_voltage = sheet.need(HEATER_RATED_VOLTAGE)?.get();
    let voltage = sheet.need(SUPPLY)?.get();
    let feed = if sheet.choice(PHASES) == Some("three") {
        Feed::ThreePhase
    } else {
        Feed::SinglePhase
    };
    // Twice the rating is a 120 V heater on 240 V, which is met; more is a misread figure.
    if exceeds(voltage, rated_voltage * 2.5) {
        return Err(InputError::Contradiction {
            what: format!(
                "`supply-voltage` {} is more than two and a half times `heater-rated-voltage` {}; no element outlives that, so read both again",
                text(voltage),
                text(rated_voltage)
            ),
        });
    }
    let power = power_at(rated_power, rated_voltage, voltage);
    let current = current_at(rated_power, rated_voltage, voltage, feed);
    let ohms = resistance(rated_power, rated_voltage);
    sheet.output(EXPECTED_CURRENT, current);
    sheet.output(EXPECTED_POWER, power);
    sheet.output(POWER_SHARE, Quantity::ratio(share(power, rated_power)));
    sheet.output(ELEMENT_RESISTANCE, ohms);
    sheet.line(
        "P = P_rated x (V / V_rated)^2",
        format!(
            "{} x ({} / {})^2",
            keyed(rated_power),
            keyed(voltage),
            keyed(rated_voltage)
        ),
        keyed(power),
    );
    let formula = match feed {
        Feed::SinglePhase => "I = P / V",
        Feed::ThreePhase => "I = P / (1.732 x V)",
    };
    sheet.line(
        formula,
        over_line_volts(keyed(power), voltage, feed == Feed::ThreePhase),
        keyed(current),
    );
    sheet.line(
        "R = V_rated^2 / P_rated",
        format!("({})^2 / {}", keyed(rated_voltage), keyed(rated_power)),
        keyed(ohms),
    );
    sheet.source("Ohm's law; Applied voltage versus rated voltage - https://www.tutco.com/resources/engineer-insight/ask-ian-applied-voltage-vs.-rated-voltage/");
    if exceeds(voltage, rated_voltage * (1.0 + TOLERANCE)) {
        sheet.note("the supply is more than 10 % above the heater's rated voltage: check the label before leaving it on");
    }
    let Some(measured) = sheet.maybe(MEASURED_CURRENT).map(Known::get) else {
        return sheet.cannot_tell(format!(
            "at {} the heater should draw {} and give {}; clamp it to compare",
            text(voltage),
            text(current),
            text(power)
        ));
    };
    // A current is compared at the voltage it was read at, never at one that was made up.
    if !sheet.is_given(SUPPLY) {
        return Err(sheet.missing(SUPPLY));
    }
    let (low, high) = (current * (1.0 - TOLERANCE), current * (1.0 + TOLERANCE));
    sheet.at_least("current", measured, low, SOURCE);
    sheet.at_most("current", measured, high, SOURCE);
    let part = Quantity::ratio(share(measured, current));
    sheet.line(
        "share = I_measured / I",
        format!("{} / {}", keyed(measured), keyed(current)),
        keyed(part),
    );
    let compared = format!(
        "{} measured, {} expected at {}",
        text(measured),
        text(current),
        text(voltage)
    );
    if exceeds(low, measured) {
        let missing = Quantity::ratio(1.0 - share(measured, current));
        return sheet.verdict(LOW, format!("{compared}: {missing} of the heat is not drawing"));
    }
    if exceeds(measured, high) {
        return sheet.verdict(HIGH, format!("{compared}: more than this heater can draw"));
    }
    sheet.verdict(AS_EXPECTED, format!("{compared}: all of the heat is drawing"))
}
