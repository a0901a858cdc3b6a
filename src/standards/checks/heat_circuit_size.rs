//! The circuit of electric heat at 125 %, and the 60 A limit on undivided elements.

use super::super::lookup;
use super::super::table::OVERCURRENT;
use super::prelude::*;
use crate::electrical::heater::{Feed, current_at};

/// Fixed electric space heat counts as a continuous load (NEC 424.4(B)).
const CONTINUOUS: f64 = 1.25;
/// Largest device ahead of undivided elements, amperes (NEC 424.22(B)).
const UNDIVIDED_DEVICE: f64 = 60.0;
/// Largest load of one subdivision, amperes (NEC 424.22(B)).
const UNDIVIDED_LOAD: f64 = 48.0;

calculation! {
    "heat-circuit-size": "Circuit of electric heat: 125 % of the load, 60 A ahead of undivided elements";
    rules "electric-heat-125", "heat-subdivision";
    inputs {
        HEATER_POWER = Power("heater-power", "Rated power of the heater on this circuit.").between(1.0, 1e6);
        HEATER_RATED_VOLTAGE = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
        BLOWER_FULL_LOAD_CURRENT = Current("blower-full-load-current", "Full-load current of the blower on the same circuit.")
            .between(0.0, 200.0).optional();
        DEVICE = Current("protective-device-rating", "Rating of the breaker or fuse that feeds it.")
            .between(1.0, 6000.0);
        PHASES;
        ELEMENTS_DIVIDED = Choice("elements-divided", "Whether fuses or breakers inside the heater split the elements into loads of at most 48 A.")
            .among(&["yes", "no"]).optional();
        CIRCUITS_SUPPLIED = Count("circuits-supplied", "Separate supply circuits that share the heater's power.")
            .between(1.0, 20.0).optional();
        EDITION;
    }
    outputs {
        HEATER_CURRENT = Current("heater-current", "Current of the heater at its rated voltage.");
        REQUIRED_AMPACITY = Current("required-ampacity", "125 % of heater and blower.");
        LEAST_DEVICE = Current("least-device", "Smallest standard device that serves.");
    }
    verdicts {
        WITHIN = plain("within", "The device is at least 125 % of the load and not too large for undivided elements.");
        BELOW_MINIMUM = violation("below-minimum", "The device is below 125 % of the load.");
        OVER_SIXTY = violation("over-sixty", "One device above 60 A feeds elements that are not divided.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let power = sheet.need(HEATER_POWER)?.get();
    let voltage = sheet.need(HEATER_RATED_VOLTAGE)?.get();
    let device = sheet.need(DEVICE)?.get();
    let blower = sheet.maybe(BLOWER_FULL_LOAD_CURRENT).map(Known::get);
    if blower.is_none() {
        sheet.assume("`blower-full-load-current` not given: no blower on this circuit");
    }
    let blower = blower.unwrap_or_else(|| ElectricCurrent::new::<ampere>(0.0));
    let feed = if sheet.choice(PHASES) == Some("three") {
        Feed::ThreePhase
    } else {
        Feed::SinglePhase
    };
    let heater = current_at(power, voltage, voltage, feed);
    let required = (heater + blower) * CONTINUOUS;
    let formula = if feed == Feed::SinglePhase {
        "I = P / V"
    } else {
        "I = P / (1.732 x V)"
    };
    sheet.line(
        formula,
        over_line_volts(keyed(power), voltage, feed == Feed::ThreePhase),
        keyed(heater),
    );
    sheet.line(
        "1.25 x (I_heater + I_blower)",
        format!("1.25 x ({} + {})", keyed(heater), keyed(blower)),
        keyed(required),
    );
    sheet.output(HEATER_CURRENT, heater);
    sheet.output(REQUIRED_AMPACITY, required);
    let rule = sheet.rule("electric-heat-125");
    sheet.at_least("device", device, required, rule);
    if let Some(least) = lookup::rating_at_or_above(required) {
        let table = sheet.table(&OVERCURRENT.standard_ratings);
        sheet.line(
            "standard rating at or above",
            format!("{} in {table}", keyed(required)),
            keyed(least),
        );
        sheet.output(LEAST_DEVICE, least);
    }
    let sixty = ElectricCurrent::new::<ampere>(UNDIVIDED_DEVICE);
    let forty_eight = ElectricCurrent::new::<ampere>(UNDIVIDED_LOAD);
    let divided = sheet.choice(ELEMENTS_DIVIDED);
    let above_sixty = exceeds(device, sixty) && divided != Some("yes");
    if above_sixty {
        let rule = sheet.rule("heat-subdivision");
        sheet.at_most("device ahead of undivided elements", device, sixty, rule);
        // Up to 48 A the maker need not divide, so nothing inside protects the elements.
        if divided == Some("no") || !exceeds(heater, forty_eight) {
            if divided.is_none() {
                sheet.assume(
                    "`elements-divided` not given: a heater of at most 48 A has no devices of its own inside",
                );
            }
            return sheet.verdict(
                OVER_SIXTY,
                format!(
                    "one {} device feeds {} of heat that is not divided; its device may be 60 A at most",
                    text(device),
                    text(heater)
                ),
            );
        }
    }
    let circuits = sheet.maybe(CIRCUITS_SUPPLIED).map(Known::number);
    if exceeds(required, device) && circuits.is_none_or(|count| count > 1.0) {
        // Heat above 48 A is usually brought in by several circuits, and one device then carries a part of it.
        let shared = circuits.is_some();
        if shared || exceeds(heater, forty_eight) {
            let why = if shared {
                "shared by several circuits"
            } else {
                "usually brought in by several circuits"
            };
            return sheet.cannot_tell(format!(
                "{} of heat is {why}: give the power behind the {} device alone, and how many circuits there are",
                text(heater),
                text(device)
            ));
        }
    }
    if exceeds(required, device) {
        return sheet.verdict(
            BELOW_MINIMUM,
            format!(
                "the {} device is below {}, 125 % of {} and {}",
                text(device),
                text(required),
                text(heater),
                text(blower)
            ),
        );
    }
    if above_sixty {
        return sheet.cannot_tell(format!(
            "{} of heat on one {} device is allowed only where fuses or breakers inside the heater divide it into loads of \
             at most 48 A: open the panel, dead, and look for them",
            text(heater),
            text(device)
        ));
    }
    sheet.verdict(
        WITHIN,
        format!(
            "the {} device is not below {}, 125 % of the load",
            text(device),
            text(required)
        ),
    )
}
