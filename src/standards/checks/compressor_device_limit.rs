//! The largest branch device for a compressor, by the 175 % and 225 % rule.

use super::super::rule::Edition;
use super::super::sheet::CODE_EDITION;
use super::prelude::*;

/// Where rounding down is worked out.
const ROUNDED_DOWN: &str = "Code Q&A: air-conditioner calculations, 2011 edition, 24 A x 1.75 = 42 A, next size down 40 A - https://www.ecmweb.com/national-electrical-code/qa/article/20899028/code-qa-air-conditioner-calculations";
/// Where the exception for the next size is reported.
const NEXT_SIZE: &str = "Accepting change, part 12: 440.22(A) of 2023 has a new exception for values that are no standard size - https://www.ecmag.com/magazine/articles/article-detail/rolling-into-chapter-5-accepting-(nec)-change-part-12; summary of the 2023 section - https://www.callout.app/codes/nec-2023-440-22";

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
        Output::quantity("largest-device", Kind::Current, "Largest standard rating allowed, at least 15 A."),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("within", "The device fitted is not above the limit."),
        VerdictKind::plain(
            "editions-differ",
            "Above the sum and not above the next standard size: the 2023 edition allows it, older ones do not.",
        ),
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
        format!("larger of {} and {}", keyed(rated), keyed(selection)),
        keyed(base),
    );
    if others.is_empty() {
        sheet.work(
            "limit = k x I",
            format!("{factor} x {}", keyed(base)),
            keyed(limit),
        );
    } else {
        sheet.work(
            "limit = k x I + sum of others",
            format!("{factor} x {} + ({})", keyed(base), sum_text(&others)),
            keyed(limit),
        );
    }
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let fifteen = amps(15.0);
    let below = lookup::rating_at_or_below(limit).unwrap_or(fifteen).max(fifteen);
    // The exception is to the sum for one compressor at its usual step; 225 % is itself a ceiling.
    let may_go_up = rule == "compressor-device-limit" && factor < 2.0 && others.is_empty();
    let above = if may_go_up {
        lookup::rating_at_or_above(limit).unwrap_or(below).max(below)
    } else {
        below
    };
    let is_given = sheet.is_given(CODE_EDITION);
    let allows_next = match sheet.edition {
        Edition::E2014 | Edition::E2017 | Edition::E2020 => Some(false),
        Edition::E2023 if is_given => Some(true),
        _ => None,
    };
    let (device, step) = if allows_next == Some(true) {
        (above, "standard rating at or above, at least 15 A")
    } else {
        (below, "standard rating at or below, at least 15 A")
    };
    sheet.work(step, format!("{} in {ratings}", keyed(limit)), keyed(device));
    sheet.output("calculated-limit", limit);
    sheet.output("largest-device", device);
    let mut source = sheet.rule(rule);
    if !others.is_empty() {
        source = format!("{source}, {}", sheet.rule("equipment-device-limit"));
    }
    sheet.note("where the nameplate marks a maximum, that rules");
    if above > below {
        sheet.note(format!(
            "to the 2020 edition the sum is rounded down; from 2023 an exception takes the next standard size, {}; 2026 was not checked",
            text(above)
        ));
        sheet.source(ROUNDED_DOWN);
        sheet.source(NEXT_SIZE);
    }
    match sheet.maybe::<ElectricCurrent>("protective-device-rating") {
        None => sheet.verdict("worked-out", format!("at most {}", text(device))),
        Some(fitted) => {
            let limit = if allows_next == Some(true) {
                above
            } else {
                limit.max(fifteen)
            };
            sheet.at_most("device", fitted, limit, source);
            if exceeds(fitted, limit) && allows_next.is_none() && !exceeds(fitted, above) {
                sheet.verdict(
                    "editions-differ",
                    format!(
                        "{} is above {}, and is the next standard size, which the 2023 edition allows and older ones do not: the edition in force decides",
                        text(fitted),
                        text(limit)
                    ),
                )
            } else if exceeds(fitted, limit) {
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
