//! How long a repaired intermittent must run clean before it may be called fixed.

use super::prelude::*;

calculation! {
    "clean-run": "How long an intermittent must run clean before it may be called fixed";
    inputs {
        MEAN_TIME_BETWEEN "mean" = Time("mean-time-between", "Usual time between two failures before the repair.")
            .in_unit("h").between(1.0, 1e9);
        CONFIDENCE "c" = Ratio("confidence", "How sure to be.").between(0.5, 0.9999).or("95 %");
        CLEAN_TIME = Time("clean-time", "How long it has run clean since.")
            .in_unit("h").between(0.0, 1e10).optional();
        CLEAN_STARTS = Count("clean-starts", "Starts without a failure, where it fails at starts.")
            .between(0.0, 1e7).optional();
    }
    outputs {
        CLEAN_TIME_NEEDED "T" = Time("clean-time-needed", "Clean running time that is enough.");
        CONFIDENCE_REACHED = Ratio("confidence-reached", "How sure the clean time so far makes.");
        HIGHEST_RATE = Ratio("highest-rate", "Largest share of starts that may still fail, at that confidence.");
    }
    verdicts {
        WORKED_OUT;
        ENOUGH = plain("enough", "It has run clean for long enough.");
        NOT_YET = plain("not-yet", "It has not run clean for long enough: it may just be waiting.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (between, confidence) = (sheet.need(MEAN_TIME_BETWEEN)?, sheet.need(CONFIDENCE)?.plain());
    let needed = sheet.give(CLEAN_TIME_NEEDED, between * ln(1.0 / (1.0 - confidence)));
    sheet
        .source("failures at random: P(none in T) = exp(-T / mean); 95 % gives 3.0 times, the rule of three");
    sheet.assume("failures come at random at a steady rate; one tied to heat, rain or season needs that weather in the clean time");
    if let Some(starts) = sheet
        .maybe(CLEAN_STARTS)
        .map(Known::number)
        .filter(|starts| *starts > 0.0)
    {
        let rate = Quantity::ratio(1.0 - (1.0 - confidence.number()).powf(1.0 / starts));
        sheet.line(
            "p = 1 - (1 - c)^(1 / n)",
            format!("1 - (1 - {})^(1 / {starts})", keyed_number(confidence.number())),
            keyed(rate),
        );
        sheet.output(HIGHEST_RATE, rate);
    }
    let found = format!("{needed} clean makes {confidence} sure");
    let Some(clean) = sheet.maybe(CLEAN_TIME) else {
        return sheet.verdict(WORKED_OUT, found);
    };
    let reached = Quantity::ratio(1.0 - (-share(clean.get(), between.get())).exp());
    sheet.output(CONFIDENCE_REACHED, reached);
    let put_in = format!("1 - exp(-{} / {})", keyed(clean.get()), keyed(between.get()));
    sheet.line("c = 1 - exp(-T / mean)", put_in, keyed(reached));
    sheet.at_least("clean time", clean, needed, "rule of three, exact form");
    let so_far = format!("{clean} clean makes {reached} sure");
    if needed.exceeds(clean) {
        sheet.verdict(NOT_YET, format!("{so_far}; {found}"))
    } else {
        sheet.verdict(ENOUGH, so_far)
    }
}
