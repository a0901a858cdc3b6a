//! Conductor and device that feed several motors.

use super::prelude::*;

calculation! {
    "motor-group": "Ampacity and device for several motors on one feeder";
    rules "motor-conductors", "motor-device-limit";
    inputs {
        MOTOR_CURRENTS = List<Current>("motor-currents", "Full-load current of each motor.")
            .between(0.01, 10_000.0);
        OTHER_CURRENT = Current("other-current", "Other loads, continuous ones already at 125 %.").optional();
        DEVICE_MULTIPLE "k" = Ratio("device-multiple", "Multiple of the largest motor for its device: 1.75 time-delay fuse, 2.5 breaker.")
            .in_unit("").between(1.0, 4.0).or("2.5");
        EDITION;
    }
    outputs {
        REQUIRED_AMPACITY "ampacity" = Current("required-ampacity", "125 % of the largest, and all the others.");
        DEVICE_SUM "device sum" = Current("device-sum", "Multiple of the largest, and all the others.");
        LARGEST_DEVICE = Current("largest-device", "Largest motor's standard device and all the others, rounded down.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let motors = sheet.list(MOTOR_CURRENTS);
    let other = sheet.maybe(OTHER_CURRENT).map_or(amps(0.0), Known::get);
    let multiple = sheet.need(DEVICE_MULTIPLE)?.plain();
    let biggest = Known::called("largest", largest(&motors.all));
    let rest = Known::called("others", motors.sum().value() - biggest.get() + other);
    let required = sheet.give(REQUIRED_AMPACITY, 1.25 * biggest + rest);
    sheet.give(DEVICE_SUM, multiple * biggest + rest);
    sheet.rule("motor-conductors");
    sheet.rule("motor-device-limit");
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    // NEC 430.62 starts from the device the largest motor may have, which was itself rounded up.
    let own = lookup::rating_at_or_above((biggest * multiple).value());
    if let Some(own) = own
        && let Some(device) = lookup::rating_at_or_below(own + rest.get())
    {
        let sum = sheet.work("sum", Known::called("device of the largest", own) + rest);
        let put_in = format!("{} in {ratings}", keyed(sum.get()));
        sheet.line("standard rating at or below", put_in, keyed(device));
        sheet.output(LARGEST_DEVICE, device);
    }
    sheet.source("NEC 430.62(A), from memory");
    sheet.verdict(WORKED_OUT, format!("the feeder must carry {required}"))
}
