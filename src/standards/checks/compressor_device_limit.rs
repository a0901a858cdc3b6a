//! The largest branch device for a compressor, by the 175 % and 225 % rule.

use super::prelude::*;

/// Where rounding down is worked out.
const ROUNDED_DOWN: &str = "Code Q&A: air-conditioner calculations, 2011 edition, 24 A x 1.75 = 42 A, next size down 40 A - https://www.ecmweb.com/national-electrical-code/qa/article/20899028/code-qa-air-conditioner-calculations";
/// Where the exception for the next size is reported.
const NEXT_SIZE: &str = "Accepting change, part 12: 440.22(A) of 2023 has a new exception for values that are no standard size - https://www.ecmag.com/magazine/articles/article-detail/rolling-into-chapter-5-accepting-(nec)-change-part-12; summary of the 2023 section - https://www.callout.app/codes/nec-2023-440-22";

calculation! {
    "compressor-device-limit": "Largest breaker or fuse for a hermetic compressor, alone or with other loads";
    rules "compressor-device-limit", "equipment-device-limit", "compressor-overload";
    inputs {
        RATED_LOAD "RLA" = Current("rated-load-current", "Rated-load current of the compressor.")
            .between(0.1, 2000.0);
        BRANCH_CIRCUIT_SELECTION_CURRENT "BCSC" = Current("branch-circuit-selection-current", "Branch-circuit selection current, where the plate has one.")
            .optional();
        OTHER_CURRENTS "sum of others" = List<Current>("other-currents", "Other motors and loads on the same circuit.")
            .between(0.01, 1000.0).optional();
        STEP = OneOf<Step>("step", "usual: 175 %; start-limited: 225 %, where it will not start; as-overload: 125 %, one device for both.").or("usual");
        LOCKED_ROTOR = Current("locked-rotor-current", "Locked-rotor current of the compressor, to check the reading.")
            .optional();
        DEVICE = Current("protective-device-rating", "Device fitted, to compare.").optional();
        EDITION;
    }
    outputs {
        CALCULATED_LIMIT = Current("calculated-limit", "Before rounding.");
        LARGEST_DEVICE = Current("largest-device", "Largest standard rating allowed, at least 15 A.");
    }
    verdicts {
        WORKED_OUT;
        WITHIN = plain("within", "The device fitted is not above the limit.");
        EDITIONS_DIFFER = plain("editions-differ", "Above the sum and not above the next standard size: the 2023 edition allows it, older ones do not.");
        ABOVE_LIMIT = violation("above-limit", "The device fitted is above the limit.");
    }
}

choice! { Step { Usual = "usual", StartLimited = "start-limited", AsOverload = "as-overload" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let rated = sheet.need(RATED_LOAD)?;
    let selection = sheet
        .maybe(BRANCH_CIRCUIT_SELECTION_CURRENT)
        .unwrap_or(rated.named("BCSC"));
    let others = sheet.list(OTHER_CURRENTS);
    if let Some(locked) = sheet.maybe(LOCKED_ROTOR).filter(|locked| rated.exceeds(*locked)) {
        return Err(contradiction(format!(
            "`rated-load-current` {rated} is above `locked-rotor-current` {locked}; the two have been swapped"
        )));
    }
    let step = sheet.need_one(STEP)?;
    let (factor, rule) = match step {
        Step::StartLimited => (2.25, "compressor-device-limit"),
        Step::AsOverload => (1.25, "compressor-overload"),
        Step::Usual => (1.75, "compressor-device-limit"),
    };
    let k = Known::called("k", Ratio::of(factor)).plain();
    let base = sheet.work("I", larger(rated, selection));
    let limit = if others.is_empty() {
        sheet.work("limit", k * base)
    } else {
        sheet.work("limit", k * base + others.sum())
    };
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let fifteen = amps(15.0);
    let below = lookup::rating_at_or_below(limit.get())
        .unwrap_or(fifteen)
        .max(fifteen);
    // The exception is to the sum for one compressor at its usual step; 225 % is itself a ceiling.
    let may_go_up = step == Step::Usual && others.is_empty();
    let above = if may_go_up {
        lookup::rating_at_or_above(limit.get())
            .unwrap_or(below)
            .max(below)
    } else {
        below
    };
    let allows_next = match sheet.edition {
        Edition::E2014 | Edition::E2017 | Edition::E2020 => Some(false),
        Edition::E2023 if sheet.is_given(EDITION) => Some(true),
        _ => None,
    };
    let (device, step) = if allows_next == Some(true) {
        (above, "standard rating at or above, at least 15 A")
    } else {
        (below, "standard rating at or below, at least 15 A")
    };
    sheet.line(step, format!("{} in {ratings}", keyed(limit)), keyed(device));
    sheet.output(CALCULATED_LIMIT, limit);
    sheet.output(LARGEST_DEVICE, device);
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
    let Some(fitted) = sheet.maybe(DEVICE) else {
        return sheet.verdict(WORKED_OUT, format!("at most {}", text(device)));
    };
    let limit = limit.with(if allows_next == Some(true) {
        above
    } else {
        limit.get().max(fifteen)
    });
    sheet.at_most("device", fitted, limit, source);
    if !fitted.exceeds(limit) {
        sheet.verdict(WITHIN, format!("{fitted} is not above {limit}"))
    } else if allows_next.is_none() && !exceeds(fitted.get(), above) {
        sheet.verdict(
            EDITIONS_DIFFER,
            format!("{fitted} is above {limit}, and is the next standard size, which the 2023 edition allows and older ones do not: the edition in force decides"),
        )
    } else {
        sheet.verdict(
            ABOVE_LIMIT,
            format!("{fitted} is above the {} allowed", text(device)),
        )
    }
}
