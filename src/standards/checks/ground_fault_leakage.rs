//! Leakage to ground against the device that watches it.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "ground-fault-leakage",
    title: "Leakage current against a ground-fault device, and its trip time",
    inputs: &[
        Input::list(
            "leakage-currents",
            Kind::Current,
            "Leakage of each load and of the wiring, or the total measured.",
        )
        .in_unit("mA")
        .between(0.0, 100.0),
        Input::choice(
            "device-class",
            &["class-a", "special-purpose", "equipment"],
            "class-a: personnel, 4 to 6 mA; special-purpose: 15 to 20 mA; equipment: 30 mA.",
        ),
    ],
    outputs: &[
        Output::quantity("total-leakage", Kind::Current, "All together, as if in step."),
        Output::quantity("must-hold", Kind::Current, "Below this the device must not trip."),
        Output::quantity("must-trip", Kind::Current, "From this on it must."),
        Output::quantity("longest-time", Kind::Time, "Longest it may take."),
    ],
    verdicts: &[
        VerdictKind::plain("holds", "Below what the device may trip on."),
        VerdictKind::plain("may-trip", "Between what it must hold and what it must trip on."),
        VerdictKind::plain("must-trip", "At or above what it must trip on."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let leaks: Vec<ElectricCurrent> = sheet.list("leakage-currents");
    let all = total(&leaks);
    let devices = &*table::OVERCURRENT;
    let (name, hold, trip) = match sheet.choice("device-class") {
        Some("special-purpose") => {
            let class = &devices.gfci_special_purpose;
            (
                sheet.table(class),
                class.more.must_not_trip_below_ma,
                class.more.must_trip_at_ma,
            )
        }
        Some("equipment") => {
            let class = &devices.equipment_protection;
            sheet.assume("a 30 mA device may trip from half of its setting on (from memory)");
            (
                sheet.table(class),
                class.more.typical_ma / 2.0,
                class.more.typical_ma,
            )
        }
        _ => {
            let class = &devices.gfci_class_a;
            (
                sheet.table(class),
                class.more.must_not_trip_below_ma,
                class.more.must_trip_at_ma,
            )
        }
    };
    let (hold, trip) = (amps(hold / 1000.0), amps(trip / 1000.0));
    sheet.work("I = sum of leakages", sum_text(&leaks), keyed(all));
    sheet.output("total-leakage", all);
    sheet.output("must-hold", hold);
    sheet.output("must-trip", trip);
    sheet.at_most("leakage", all, hold, name);
    let allowed = &devices.cooling_equipment_leakage;
    sheet.note(format!(
        "hard-wired cooling equipment may leak up to {} by its product standard ({}), more than a personnel device holds: it can trip with nothing wrong",
        text(amps(allowed.more.max_leakage_ma / 1000.0)),
        allowed.edition
    ));
    sheet.source(allowed.citation());
    let found = format!("{} of leakage", text(all));
    if all >= trip * (1.0 - 1e-9) {
        if sheet.choice("device-class") != Some("equipment") {
            // UL 943: T = (20 / I)^1.43, I in mA, from 6 mA to 264 mA; above that it stays at 25 ms.
            let milliamperes = (all.get::<ampere>() * 1000.0).min(264.0);
            let seconds = (20.0 / milliamperes).powf(1.43);
            let time = Quantity {
                kind: Kind::Time,
                base: seconds.max(0.02),
            };
            sheet.work(
                "T = (20 / I)^1.43, I in mA",
                format!("(20 / {})^1.43", keyed_number(milliamperes)),
                keyed(time),
            );
            sheet.output("longest-time", time);
        }
        return sheet.verdict(
            "must-trip",
            format!("{found}: the device must trip from {} on", text(trip)),
        );
    }
    if all >= hold * (1.0 - 1e-9) {
        return sheet.verdict(
            "may-trip",
            format!("{found}, between {} and {}", text(hold), text(trip)),
        );
    }
    sheet.verdict("holds", format!("{found}, below {}", text(hold)))
}
