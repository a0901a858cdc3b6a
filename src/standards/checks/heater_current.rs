//! What an electric heater should draw at the voltage that is there, against what it does draw.

use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};

use super::super::meter::judge;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{METER_ERROR_INPUT, Sheet, exceeds, keyed, share, text};
use super::prelude::over_line_volts;
use crate::electrical::heater::{Feed, current_at, power_at, resistance};
use crate::quantity::{Kind, Quantity};

/// A heater may be so far from its label either way before it counts as low or high: common practice, no source.
const TOLERANCE: f64 = 0.10;
const SOURCE: &str = "common practice, no source";

pub(super) const CALCULATION: Calculation = Calculation {
    name: "heater-current",
    title: "Current, power and ohms of electric heat at the voltage present",
    inputs: &[
        Input::quantity(
            "heater-power",
            Kind::Power,
            "Rated power of the heater on the circuit measured.",
        )
        .between(1.0, 1e6),
        Input::quantity(
            "heater-rated-voltage",
            Kind::Voltage,
            "Voltage at which that power is rated.",
        )
        .between(1.0, 1000.0),
        Input::quantity(
            "supply-voltage",
            Kind::Voltage,
            "Voltage at the heater while it heats.",
        )
        .between(1.0, 1000.0)
        .or_same_as("heater-rated-voltage")
        .read(),
        Input::quantity(
            "measured-current",
            Kind::Current,
            "Current of the heater alone, blower not counted.",
        )
        .between(0.0, 3000.0)
        .optional()
        .read(),
        Input::choice(
            "phases",
            &["single", "three"],
            "Conductors that feed it: two (single) or three.",
        )
        .or("single"),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "expected-current",
            Kind::Current,
            "Line current at the voltage present.",
        ),
        Output::quantity("expected-power", Kind::Power, "Power at the voltage present."),
        Output::quantity("power-share", Kind::Ratio, "That power over the rated one."),
        Output::quantity(
            "element-resistance",
            Kind::Resistance,
            "Resistance of the elements together.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain(
            "as-expected",
            "The current is within 10 % of what the label gives at this voltage.",
        ),
        VerdictKind::plain(
            "low",
            "The current is more than 10 % below: an element or its circuit is open.",
        ),
        VerdictKind::plain(
            "high",
            "The current is more than 10 % above: another kit, or another load on the circuit.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let rated_power: Power = sheet.need("heater-power")?;
    let rated_voltage: ElectricPotential = sheet.need("heater-rated-voltage")?;
    let voltage: ElectricPotential = sheet.need("supply-voltage")?;
    let feed = if sheet.choice("phases") == Some("three") {
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
    sheet.output("expected-current", current);
    sheet.output("expected-power", power);
    sheet.output("power-share", Quantity::ratio(share(power, rated_power)));
    sheet.output("element-resistance", ohms);
    sheet.work(
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
    sheet.work(
        formula,
        over_line_volts(keyed(power), voltage, feed == Feed::ThreePhase),
        keyed(current),
    );
    sheet.work(
        "R = V_rated^2 / P_rated",
        format!("({})^2 / {}", keyed(rated_voltage), keyed(rated_power)),
        keyed(ohms),
    );
    sheet.source("Ohm's law; Applied voltage versus rated voltage - https://www.tutco.com/resources/engineer-insight/ask-ian-applied-voltage-vs.-rated-voltage/");
    if exceeds(voltage, rated_voltage * (1.0 + TOLERANCE)) {
        sheet.note("the supply is more than 10 % above the heater's rated voltage: check the label before leaving it on");
    }
    let Some(measured) = sheet.maybe::<ElectricCurrent>("measured-current") else {
        return sheet.cannot_tell(format!(
            "at {} the heater should draw {} and give {}; clamp it to compare",
            text(voltage),
            text(current),
            text(power)
        ));
    };
    // A current is compared at the voltage it was read at, never at one that was made up.
    if !sheet.is_given("supply-voltage") {
        return Err(sheet.missing("supply-voltage"));
    }
    let (low, high) = (current * (1.0 - TOLERANCE), current * (1.0 + TOLERANCE));
    sheet.at_least("current", measured, low, SOURCE);
    sheet.at_most("current", measured, high, SOURCE);
    let part = Quantity::ratio(share(measured, current));
    sheet.work(
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
        return sheet.verdict("low", format!("{compared}: {missing} of the heat is not drawing"));
    }
    if exceeds(measured, high) {
        return sheet.verdict("high", format!("{compared}: more than this heater can draw"));
    }
    sheet.verdict("as-expected", format!("{compared}: all of the heat is drawing"))
}
