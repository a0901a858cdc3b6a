//! Loads of a branch circuit, continuous ones at 125 %, against its device.

use super::prelude::*;

calculation! {
    "branch-load": "Loads of a branch circuit, continuous ones at 125 %";
    rules "continuous-loads";
    inputs {
        CONTINUOUS_CURRENT "continuous" = Current("continuous-current", "Loads that run three hours or more.").optional();
        OTHER_CURRENTS = List<Current>("other-currents", "All other loads.").between(0.0, 1000.0).optional();
        LOAD_POWERS "sum of P" = List<Power>("load-powers", "Loads given in watts.")
            .in_unit("W").between(0.0, 1e6).optional();
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the circuit, needed for loads in watts.")
            .only_with(&["load-powers"]).optional();
        DEVICE "rating" = Current("protective-device-rating", "Rating of the breaker or fuse, to compare.")
            .between(1.0, 6000.0).optional();
        EDITION;
    }
    outputs {
        TOTAL_CURRENT = Current("total-current", "All loads together.");
        REQUIRED_CAPACITY = Current("required-capacity", "All loads, continuous ones at 125 %.");
        LEAST_DEVICE = Current("least-device", "Smallest standard device that serves.");
        SHARE_OF_CIRCUIT "share" = Ratio("share-of-circuit", "Total current over the device's rating.");
    }
    verdicts {
        WORKED_OUT;
        WITHIN = plain("within", "The device carries the loads.");
        OVERLOADED = violation("overloaded", "The loads, continuous ones at 125 %, are above the device.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let continuous = sheet.maybe(CONTINUOUS_CURRENT);
    let (others, powers) = (sheet.list(OTHER_CURRENTS), sheet.list(LOAD_POWERS));
    if continuous.is_none() && others.is_empty() && powers.is_empty() {
        return Err(sheet.missing(OTHER_CURRENTS));
    }
    let continuous = continuous.unwrap_or(Known::called("continuous", amps(0.0)));
    let mut rest = Known::called("others", others.sum().value());
    if !powers.is_empty() {
        let voltage = sheet.need(SUPPLY)?;
        let found = sheet.work("I", powers.sum() / voltage);
        rest = rest.with(rest.get() + found.get());
    }
    let all = continuous + rest;
    let required = sheet.work("required", rest + 1.25 * continuous);
    sheet.output(TOTAL_CURRENT, all);
    sheet.output(REQUIRED_CAPACITY, required);
    let rule = sheet.rule("continuous-loads");
    if let Some(least) = standard_at_or_above(&mut sheet, required) {
        sheet.output(LEAST_DEVICE, least);
    }
    let all = Known::called("I", all.value());
    let Some(device) = sheet.maybe(DEVICE) else {
        let found = format!("{all} in all; the circuit must be good for {required}");
        return sheet.verdict(WORKED_OUT, found);
    };
    let part = sheet.give(SHARE_OF_CIRCUIT, all / device);
    sheet.at_most("load", required, device, rule);
    let found = format!("{all} in all, {part} of the {device} circuit");
    if required.exceeds(device) {
        sheet.verdict(OVERLOADED, format!("{found}: {required} counted is above it"))
    } else {
        sheet.verdict(WITHIN, found)
    }
}
