//! A run capacitor's capacitance from its current and voltage while the motor runs.

use uom::si::f64::{Capacitance, ElectricCurrent, ElectricPotential, Frequency};

use super::super::meter::judge;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{METER_ERROR_INPUT, Sheet, exceeds, keyed, share, text};
use crate::electrical::capacitor::capacitance;
use crate::quantity::{Kind, Quantity};

/// Below this share of its rating a capacitor passes next to nothing: taken as open.
const OPEN: f64 = 0.10;
const SOURCE: &str = "tolerance printed on the capacitor (EIA-456-A)";

pub(super) const CALCULATION: Calculation = Calculation {
    name: "capacitor-under-load",
    title: "Run capacitor from volts and amperes while running",
    inputs: &[
        Input::quantity(
            "capacitor-current",
            Kind::Current,
            "Current in the lead of the start winding, motor running.",
        )
        .between(0.0, 100.0)
        .read(),
        Input::quantity(
            "capacitor-voltage",
            Kind::Voltage,
            "Voltage across that section of the capacitor, motor running.",
        )
        .between(10.0, 700.0)
        .read(),
        Input::quantity(
            "run-capacitor-rating",
            Kind::Capacitance,
            "Capacitance printed on the label.",
        )
        .between(0.1e-6, 500e-6),
        Input::quantity(
            "tolerance",
            Kind::Ratio,
            "Tolerance printed on the label, either way.",
        )
        .between(0.01, 0.5)
        .or("6 %"),
        Input::quantity("frequency", Kind::Frequency, "Frequency of the supply.")
            .between(40.0, 70.0)
            .or("60 Hz"),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "measured-capacitance",
            Kind::Capacitance,
            "Capacitance by the two readings.",
        ),
        Output::quantity("lowest-allowed", Kind::Capacitance, "Rating less tolerance."),
        Output::quantity("highest-allowed", Kind::Capacitance, "Rating plus tolerance."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "Within the tolerance on the label."),
        VerdictKind::plain("low", "Below the tolerance on the label."),
        VerdictKind::plain("open", "Less than a tenth of the rating: open, or not connected."),
        VerdictKind::plain(
            "high",
            "Above the tolerance on the label: a wrong part, a shorting one, or two in parallel.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let current: ElectricCurrent = sheet.need("capacitor-current")?;
    let voltage: ElectricPotential = sheet.need("capacitor-voltage")?;
    let rating: Capacitance = sheet.need("run-capacitor-rating")?;
    let tolerance: f64 = sheet.need("tolerance")?;
    let frequency: Frequency = sheet.need("frequency")?;
    let measured = capacitance(current, voltage, frequency);
    let (low, high) = (rating * (1.0 - tolerance), rating * (1.0 + tolerance));
    sheet.output("measured-capacitance", measured);
    sheet.output("lowest-allowed", low);
    sheet.output("highest-allowed", high);
    sheet.work(
        "C = I / (2 x pi x f x V)",
        format!(
            "{} / (2 x pi x {} x {})",
            keyed(current),
            keyed(frequency),
            keyed(voltage)
        ),
        keyed(measured),
    );
    let tolerance = Quantity::ratio(tolerance);
    sheet.work(
        "C_low = C_rated x (1 - tolerance)",
        format!("{} x (1 - {})", keyed(rating), keyed(tolerance)),
        keyed(low),
    );
    sheet.work(
        "C_high = C_rated x (1 + tolerance)",
        format!("{} x (1 + {})", keyed(rating), keyed(tolerance)),
        keyed(high),
    );
    sheet.at_least("capacitance", measured, low, SOURCE);
    sheet.at_most("capacitance", measured, high, SOURCE);
    sheet.source("definition of capacitance; Replace Blower Run Capacitor (2652 formula; within 10 %) - https://www.myhvacperformance.com/replace-blower-run-capacitor/");
    let part = Quantity::ratio(share(measured, rating));
    let compared = format!(
        "{} measured, {part} of the {} on the label",
        text(measured),
        text(rating)
    );
    if exceeds(rating * OPEN, measured) {
        sheet.verdict("open", compared)
    } else if exceeds(low, measured) {
        sheet.verdict(
            "low",
            format!("{compared}, below the {} its tolerance allows", text(low)),
        )
    } else if exceeds(measured, high) {
        sheet.verdict(
            "high",
            format!("{compared}, above the {} its tolerance allows", text(high)),
        )
    } else {
        sheet.verdict("within", format!("{compared}, within {tolerance}"))
    }
}
