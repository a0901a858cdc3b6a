//! Conductor and device that feed several motors.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "motor-group",
    title: "Ampacity and device for several motors on one feeder",
    inputs: &[
        Input::list(
            "motor-currents",
            Kind::Current,
            "Full-load current of each motor.",
        )
        .between(0.01, 10_000.0),
        current("other-current", "Other loads, continuous ones already at 125 %.").optional(),
        Input::quantity(
            "device-multiple",
            Kind::Ratio,
            "Multiple of the largest motor for its device: 1.75 time-delay fuse, 2.5 breaker.",
        )
        .in_unit("")
        .between(1.0, 4.0)
        .or("2.5"),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "required-ampacity",
            Kind::Current,
            "125 % of the largest, and all the others.",
        ),
        Output::quantity(
            "device-sum",
            Kind::Current,
            "Multiple of the largest, and all the others.",
        ),
        Output::quantity(
            "largest-device",
            Kind::Current,
            "Largest motor's standard device and all the others, rounded down.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["motor-conductors", "motor-device-limit"])?;
    let motors: Vec<ElectricCurrent> = sheet.list("motor-currents");
    let other: ElectricCurrent = sheet.maybe("other-current").unwrap_or_else(|| amps(0.0));
    let multiple: f64 = sheet.need("device-multiple")?;
    let biggest = largest(&motors);
    let rest = total(&motors) - biggest + other;
    let required = biggest * 1.25 + rest;
    let sum = biggest * multiple + rest;
    sheet.work(
        "ampacity = 1.25 x largest + others",
        format!("1.25 x {} + {}", keyed(biggest), keyed(rest)),
        keyed(required),
    );
    sheet.work(
        "device sum = k x largest + others",
        format!(
            "{} x {} + {}",
            keyed_number(multiple),
            keyed(biggest),
            keyed(rest)
        ),
        keyed(sum),
    );
    sheet.output("required-ampacity", required);
    sheet.output("device-sum", sum);
    sheet.rule("motor-conductors");
    sheet.rule("motor-device-limit");
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    // NEC 430.62 starts from the device the largest motor may have, which was itself rounded up.
    let own = lookup::rating_at_or_above(biggest * multiple);
    if let Some(device) = own.and_then(|own| lookup::rating_at_or_below(own + rest)) {
        let own = own.unwrap_or(device);
        sheet.work(
            "sum = device of the largest + others",
            format!("{} + {}", keyed(own), keyed(rest)),
            keyed(own + rest),
        );
        sheet.work(
            "standard rating at or below",
            format!("{} in {ratings}", keyed(own + rest)),
            keyed(device),
        );
        sheet.output("largest-device", device);
    }
    sheet.source("NEC 430.62(A), from memory");
    sheet.verdict("worked-out", format!("the feeder must carry {}", text(required)))
}
