//! The circuit of electric heat at 125 %, and the 60 A limit on undivided elements.

use super::prelude::*;

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
        HEATER_POWER "P" = Power("heater-power", "Rated power of the heater on this circuit.").between(1.0, 1e6);
        HEATER_RATED_VOLTAGE "V" = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
        BLOWER_FULL_LOAD_CURRENT "I_blower" = Current("blower-full-load-current", "Full-load current of the blower on the same circuit.")
            .between(0.0, 200.0).optional();
        DEVICE = Current("protective-device-rating", "Rating of the breaker or fuse that feeds it.")
            .between(1.0, 6000.0);
        PHASES;
        ELEMENTS_DIVIDED = OneOf<YesNo>("elements-divided", "Whether fuses or breakers inside the heater split the elements into loads of at most 48 A.").optional();
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
    let (power, voltage) = (sheet.need(HEATER_POWER)?, sheet.need(HEATER_RATED_VOLTAGE)?);
    let device = sheet.need(DEVICE)?;
    let blower = sheet.maybe(BLOWER_FULL_LOAD_CURRENT);
    if blower.is_none() {
        sheet.assume("`blower-full-load-current` not given: no blower on this circuit");
    }
    let blower = blower.unwrap_or(Known::called("I_blower", amps(0.0)));
    let (three, _) = phase_factor(&sheet);
    let heater = line_current(&mut sheet, power, voltage, three).named("I_heater");
    let required = sheet.work("required", CONTINUOUS * (heater + blower));
    sheet.output(HEATER_CURRENT, heater);
    sheet.output(REQUIRED_AMPACITY, required);
    let rule = sheet.rule("electric-heat-125");
    sheet.at_least("device", device, required, rule);
    if let Some(least) = standard_at_or_above(&mut sheet, required) {
        sheet.output(LEAST_DEVICE, least);
    }
    let sixty = Known::fixed(amps(UNDIVIDED_DEVICE));
    let above_48 = exceeds(heater.number(), UNDIVIDED_LOAD);
    let divided = sheet.one_of(ELEMENTS_DIVIDED);
    let above_sixty = device.exceeds(sixty) && divided != Some(YesNo::Yes);
    if above_sixty {
        let rule = sheet.rule("heat-subdivision");
        sheet.at_most("device ahead of undivided elements", device, sixty, rule);
        // Up to 48 A the maker need not divide, so nothing inside protects the elements.
        if divided == Some(YesNo::No) || !above_48 {
            if divided.is_none() {
                sheet.assume(
                    "`elements-divided` not given: a heater of at most 48 A has no devices of its own inside",
                );
            }
            return sheet.verdict(
                OVER_SIXTY,
                format!("one {device} device feeds {heater} of heat that is not divided; its device may be 60 A at most"),
            );
        }
    }
    let circuits = sheet.maybe(CIRCUITS_SUPPLIED).map(Known::number);
    if required.exceeds(device) {
        // Heat above 48 A is usually brought in by several circuits, and one device then carries a part of it.
        let why = match circuits {
            Some(count) if count > 1.0 => Some("shared by several circuits"),
            None if above_48 => Some("usually brought in by several circuits"),
            _ => None,
        };
        if let Some(why) = why {
            return sheet.cannot_tell(format!(
                "{heater} of heat is {why}: give the power behind the {device} device alone, and how many circuits there are"
            ));
        }
        return sheet.verdict(
            BELOW_MINIMUM,
            format!("the {device} device is below {required}, 125 % of {heater} and {blower}"),
        );
    }
    if above_sixty {
        return sheet.cannot_tell(format!(
            "{heater} of heat on one {device} device is allowed only where fuses or breakers inside the heater divide it into loads of \
             at most 48 A: open the panel, dead, and look for them"
        ));
    }
    sheet.verdict(
        WITHIN,
        format!("the {device} device is not below {required}, 125 % of the load"),
    )
}
