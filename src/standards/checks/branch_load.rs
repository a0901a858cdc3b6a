//! Loads of a branch circuit, continuous ones at 125 %, against its device.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "branch-load",
    title: "Loads of a branch circuit, continuous ones at 125 %",
    inputs: &[
        current("continuous-current", "Loads that run three hours or more.").optional(),
        Input::list("other-currents", Kind::Current, "All other loads.")
            .between(0.0, 1000.0)
            .optional(),
        Input::list("load-powers", Kind::Power, "Loads given in watts.")
            .in_unit("W")
            .between(0.0, 1e6)
            .optional(),
        voltage(
            "supply-voltage",
            "Voltage of the circuit, needed for loads in watts.",
        )
        .only_with(&["load-powers"])
        .optional(),
        current(
            "protective-device-rating",
            "Rating of the breaker or fuse, to compare.",
        )
        .between(1.0, 6000.0)
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("total-current", Kind::Current, "All loads together."),
        Output::quantity(
            "required-capacity",
            Kind::Current,
            "All loads, continuous ones at 125 %.",
        ),
        Output::quantity(
            "least-device",
            Kind::Current,
            "Smallest standard device that serves.",
        ),
        Output::quantity(
            "share-of-circuit",
            Kind::Ratio,
            "Total current over the device's rating.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("within", "The device carries the loads."),
        VerdictKind::violation(
            "overloaded",
            "The loads, continuous ones at 125 %, are above the device.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["continuous-loads"])?;
    let continuous: Option<ElectricCurrent> = sheet.maybe("continuous-current");
    let others: Vec<ElectricCurrent> = sheet.list("other-currents");
    let powers: Vec<Power> = sheet.list("load-powers");
    if continuous.is_none() && others.is_empty() && powers.is_empty() {
        return Err(sheet.missing("other-currents"));
    }
    let continuous = continuous.unwrap_or_else(|| amps(0.0));
    let mut rest = total(&others);
    if !powers.is_empty() {
        let voltage: ElectricPotential = sheet
            .maybe("supply-voltage")
            .ok_or_else(|| sheet.missing("supply-voltage"))?;
        let power = powers.iter().fold(Power::new::<watt>(0.0), |sum, one| sum + *one);
        sheet.work(
            "I = sum of P / V",
            format!("({}) / {}", sum_text(&powers), keyed(voltage)),
            keyed(power / voltage),
        );
        rest += power / voltage;
    }
    let all = continuous + rest;
    let required = rest + continuous * 1.25;
    sheet.work(
        "required = others + 1.25 x continuous",
        format!("{} + 1.25 x {}", keyed(rest), keyed(continuous)),
        keyed(required),
    );
    sheet.output("total-current", all);
    sheet.output("required-capacity", required);
    let rule = sheet.rule("continuous-loads");
    if let Some(least) = lookup::rating_at_or_above(required) {
        let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
        sheet.work(
            "standard rating at or above",
            format!("{} in {ratings}", keyed(required)),
            keyed(least),
        );
        sheet.output("least-device", least);
    }
    let Some(device) = sheet.maybe::<ElectricCurrent>("protective-device-rating") else {
        return sheet.verdict(
            "worked-out",
            format!(
                "{} in all; the circuit must be good for {}",
                text(all),
                text(required)
            ),
        );
    };
    let part = Quantity::ratio(share(all, device));
    sheet.output("share-of-circuit", part);
    sheet.work(
        "share = I / rating",
        format!("{} / {}", keyed(all), keyed(device)),
        keyed(part),
    );
    sheet.at_most("load", required, device, rule);
    let found = format!("{} in all, {part} of the {} circuit", text(all), text(device));
    if exceeds(required, device) {
        sheet.verdict(
            "overloaded",
            format!("{found}: {} counted is above it", text(required)),
        )
    } else {
        sheet.verdict("within", found)
    }
}
