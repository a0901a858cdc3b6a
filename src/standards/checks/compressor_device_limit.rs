//! The largest branch device for a compressor, by the 175 % and 225 % rule.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "compressor-device-limit",
    title: "Largest breaker or fuse for a hermetic compressor, alone or with other loads",
    inputs: &[
        current("rated-load-current", "Rated-load current of the compressor.").between(0.1, 2000.0),
        current("branch-circuit-selection-current", "Branch-circuit selection current, where the plate has one.").optional(),
        Input::list("other-currents", Kind::Current, "Other motors and loads on the same circuit.").between(0.01, 1000.0).optional(),
        Input::choice(
            "step",
            &["usual", "start-limited", "as-overload"],
            "usual: 175 %; start-limited: 225 %, where it will not start; as-overload: 125 %, one device for both.",
        )
        .or("usual"),
        current("locked-rotor-current", "Locked-rotor current of the compressor, to check the reading.").optional(),
        current("protective-device-rating", "Device fitted, to compare.").optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("calculated-limit", Kind::Current, "Before rounding."),
        Output::quantity("largest-device", Kind::Current, "Largest standard rating not above it, at least 15 A."),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("within", "The device fitted is not above the limit."),
        VerdictKind::violation("above-limit", "The device fitted is above the limit."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &[
            "compressor-device-limit",
            "equipment-device-limit",
            "compressor-overload",
        ],
    )?;
    let rated: ElectricCurrent = sheet.need("rated-load-current")?;
    let selection: ElectricCurrent = sheet.maybe("branch-circuit-selection-current").unwrap_or(rated);
    let others: Vec<ElectricCurrent> = sheet.list("other-currents");
    if let Some(locked) = sheet.maybe::<ElectricCurrent>("locked-rotor-current")
        && exceeds(rated, locked)
    {
        return Err(InputError::Contradiction {
            what: format!(
                "`rated-load-current` {} is above `locked-rotor-current` {}; the two have been swapped",
                text(rated),
                text(locked)
            ),
        });
    }
    let (factor, rule) = match sheet.choice("step") {
        Some("start-limited") => (2.25, "compressor-device-limit"),
        Some("as-overload") => (1.25, "compressor-overload"),
        _ => (1.75, "compressor-device-limit"),
    };
    let base = rated.max(selection);
    let limit = base * factor + total(&others);
    sheet.work(
        "I = larger of RLA and BCSC",
        format!("larger of {} and {}", text(rated), text(selection)),
        text(base),
    );
    sheet.work(
        "limit = k x I + others",
        format!("{factor} x {} + ({})", text(base), sum_text(&others)),
        text(limit),
    );
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let fifteen = amps(15.0);
    let device = lookup::rating_at_or_below(limit).unwrap_or(fifteen).max(fifteen);
    sheet.work(
        "standard rating at or below, at least 15 A",
        format!("{} in {ratings}", text(limit)),
        text(device),
    );
    sheet.output("calculated-limit", limit);
    sheet.output("largest-device", device);
    let mut source = sheet.rule(rule);
    if !others.is_empty() {
        source = format!("{source}, {}", sheet.rule("equipment-device-limit"));
    }
    sheet.note("where the nameplate marks a maximum, that rules; the section has no next-size-up clause, so the sum is rounded down");
    match sheet.maybe::<ElectricCurrent>("protective-device-rating") {
        None => sheet.verdict("worked-out", format!("at most {}", text(device))),
        Some(fitted) => {
            let limit = limit.max(fifteen);
            sheet.at_most("device", fitted, limit, source);
            if exceeds(fitted, limit) {
                sheet.verdict(
                    "above-limit",
                    format!("{} is above the {} allowed", text(fitted), text(device)),
                )
            } else {
                sheet.verdict("within", format!("{} is not above {}", text(fitted), text(limit)))
            }
        }
    }
}
