//! How long a repaired intermittent must run clean before it may be called fixed.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "clean-run",
    title: "How long an intermittent must run clean before it may be called fixed",
    inputs: &[
        Input::quantity(
            "mean-time-between",
            Kind::Time,
            "Usual time between two failures before the repair.",
        )
        .in_unit("h")
        .between(1.0, 1e9),
        Input::quantity("confidence", Kind::Ratio, "How sure to be.")
            .between(0.5, 0.9999)
            .or("95 %"),
        Input::quantity("clean-time", Kind::Time, "How long it has run clean since.")
            .in_unit("h")
            .between(0.0, 1e10)
            .optional(),
        Input::quantity(
            "clean-starts",
            Kind::Count,
            "Starts without a failure, where it fails at starts.",
        )
        .between(0.0, 1e7)
        .optional(),
    ],
    outputs: &[
        Output::quantity(
            "clean-time-needed",
            Kind::Time,
            "Clean running time that is enough.",
        ),
        Output::quantity(
            "confidence-reached",
            Kind::Ratio,
            "How sure the clean time so far makes.",
        ),
        Output::quantity(
            "highest-rate",
            Kind::Ratio,
            "Largest share of starts that may still fail, at that confidence.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("enough", "It has run clean for long enough."),
        VerdictKind::plain(
            "not-yet",
            "It has not run clean for long enough: it may just be waiting.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let between: Time = sheet.need("mean-time-between")?;
    let confidence: f64 = sheet.need("confidence")?;
    let factor = -(1.0 - confidence).ln();
    let needed = between * factor;
    sheet.work(
        "T = mean x ln(1 / (1 - c))",
        format!("{} x ln(1 / (1 - {}))", keyed(between), keyed_number(confidence)),
        keyed(needed),
    );
    sheet.output("clean-time-needed", needed);
    sheet
        .source("failures at random: P(none in T) = exp(-T / mean); 95 % gives 3.0 times, the rule of three");
    sheet.assume("failures come at random at a steady rate; one tied to heat, rain or season needs that weather in the clean time");
    if let Some(starts) = sheet.maybe::<f64>("clean-starts").filter(|starts| *starts > 0.0) {
        let rate = 1.0 - (1.0 - confidence).powf(1.0 / starts);
        sheet.work(
            "p = 1 - (1 - c)^(1 / n)",
            format!("1 - (1 - {})^(1 / {starts})", keyed_number(confidence)),
            keyed(Quantity::ratio(rate)),
        );
        sheet.output("highest-rate", Quantity::ratio(rate));
    }
    let found = format!(
        "{} clean makes {} sure",
        text(needed),
        Quantity::ratio(confidence)
    );
    let Some(clean) = sheet.maybe::<Time>("clean-time") else {
        return sheet.verdict("worked-out", found);
    };
    let reached = 1.0 - (-share(clean, between)).exp();
    sheet.output("confidence-reached", Quantity::ratio(reached));
    sheet.work(
        "c = 1 - exp(-T / mean)",
        format!("1 - exp(-{} / {})", keyed(clean), keyed(between)),
        keyed(Quantity::ratio(reached)),
    );
    sheet.at_least("clean time", clean, needed, "rule of three, exact form");
    if exceeds(needed, clean) {
        sheet.verdict(
            "not-yet",
            format!(
                "{} clean makes {} sure; {found}",
                text(clean),
                Quantity::ratio(reached)
            ),
        )
    } else {
        sheet.verdict(
            "enough",
            format!("{} clean makes {} sure", text(clean), Quantity::ratio(reached)),
        )
    }
}
