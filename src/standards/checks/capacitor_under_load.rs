//! A run capacitor's capacitance from its current and voltage while the motor runs.
//!
//! For a sine wave; losses and harmonics are neglected. At 60 Hz, uF = 2653 x A / V.

use super::prelude::*;

/// Below this share of its rating a capacitor passes next to nothing: taken as open.
const NOTHING: f64 = 0.10;
const SOURCE: &str = "tolerance printed on the capacitor (EIA-456-A)";

calculation! {
    "capacitor-under-load": "Run capacitor from volts and amperes while running";
    inputs {
        CAPACITOR_CURRENT "I" = Current("capacitor-current", "Current in the lead of the start winding, motor running.")
            .between(0.0, 100.0).read();
        CAPACITOR_VOLTAGE "V" = Voltage("capacitor-voltage", "Voltage across that section of the capacitor, motor running.")
            .between(10.0, 700.0).read();
        RUN_CAPACITOR_RATING "C_rated" = Capacitance("run-capacitor-rating", "Capacitance printed on the label.")
            .between(0.1e-6, 500e-6);
        TOLERANCE "tolerance" = Ratio("tolerance", "Tolerance printed on the label, either way.")
            .between(0.01, 0.5).or("6 %");
        FREQUENCY "f" = Frequency("frequency", "Frequency of the supply.").between(40.0, 70.0).or("60 Hz");
        METER_ERROR;
    }
    outputs {
        MEASURED_CAPACITANCE "C" = Capacitance("measured-capacitance", "Capacitance by the two readings.");
        LOWEST_ALLOWED "C_low" = Capacitance("lowest-allowed", "Rating less tolerance.");
        HIGHEST_ALLOWED "C_high" = Capacitance("highest-allowed", "Rating plus tolerance.");
    }
    verdicts {
        WITHIN = plain("within", "Within the tolerance on the label.");
        LOW = plain("low", "Below the tolerance on the label.");
        OPEN = plain("open", "Less than a tenth of the rating: open, or not connected.");
        HIGH = plain("high", "Above the tolerance on the label: a wrong part, a shorting one, or two in parallel.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (current, voltage) = (sheet.need(CAPACITOR_CURRENT)?, sheet.need(CAPACITOR_VOLTAGE)?);
    let (rating, tolerance) = (sheet.need(RUN_CAPACITOR_RATING)?, sheet.need(TOLERANCE)?);
    let frequency = sheet.need(FREQUENCY)?;
    let measured = sheet.give(MEASURED_CAPACITANCE, current / (2.0 * PI * frequency * voltage));
    let low = sheet.give(LOWEST_ALLOWED, rating * (1.0 - tolerance));
    let high = sheet.give(HIGHEST_ALLOWED, rating * (1.0 + tolerance));
    sheet.at_least("capacitance", measured, low, SOURCE);
    sheet.at_most("capacitance", measured, high, SOURCE);
    sheet.source("definition of capacitance; Replace Blower Run Capacitor (2652 formula; within 10 %) - https://www.myhvacperformance.com/replace-blower-run-capacitor/");
    let part = Quantity::from(measured / rating);
    let compared = format!("{measured} measured, {part} of the {rating} on the label");
    if (rating * NOTHING).exceeds(measured) {
        sheet.verdict(OPEN, compared)
    } else if low.exceeds(measured) {
        sheet.verdict(LOW, format!("{compared}, below the {low} its tolerance allows"))
    } else if measured.exceeds(high) {
        sheet.verdict(HIGH, format!("{compared}, above the {high} its tolerance allows"))
    } else {
        sheet.verdict(WITHIN, format!("{compared}, within {tolerance}"))
    }
}
