//! A run of several sizes one after the other, each with its own longest length.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "mixed-run",
    title: "A run of several sizes: share of the allowed drop each uses up",
    inputs: &[
        Input::list("run-lengths", Kind::Length, "Length of each part, in order.").between(0.0, 10_000.0),
        Input::list(
            "longest-lengths",
            Kind::Length,
            "Longest length a table allows for the size of each part, in the same order.",
        )
        .between(0.1, 100_000.0),
    ],
    outputs: &[
        Output::new(
            "shares",
            ValueKind::Quantities(Kind::Ratio),
            "Share of the allowed drop of each part.",
        ),
        Output::quantity("total-share", Kind::Ratio, "Of all parts together."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "All parts together use no more than the allowed drop."),
        VerdictKind::plain("over", "All parts together use more than the allowed drop."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let lengths: Vec<Length> = sheet.list("run-lengths");
    let longest: Vec<Length> = sheet.list("longest-lengths");
    if lengths.len() != longest.len() {
        return Err(InputError::Contradiction {
            what: format!(
                "`run-lengths` has {} entries and `longest-lengths` {}; give one of each for every part",
                lengths.len(),
                longest.len()
            ),
        });
    }
    let mut shares = Vec::new();
    for (length, longest) in lengths.iter().zip(&longest) {
        let part = Quantity::ratio(share(*length, *longest));
        sheet.work(
            "share = length / longest",
            format!("{} / {}", keyed(*length), keyed(*longest)),
            keyed(part),
        );
        shares.push(part);
    }
    let all = shares.iter().map(|part| part.base).sum::<f64>();
    sheet.work(
        "total = sum of shares",
        sum_text(&shares),
        keyed(Quantity::ratio(all)),
    );
    sheet.output_value("shares", Value::Quantities(shares));
    sheet.output("total-share", Quantity::ratio(all));
    let source = "Submersible pump application manual, mixed cable sizes - http://www.franklin-electric.com/business/WaterSystems/Service/AIM/page-12.aspx";
    sheet.source(source);
    sheet.at_most("total share", Quantity::ratio(all), Quantity::ratio(1.0), source);
    let found = format!("{} of the allowed drop is used", Quantity::ratio(all));
    if exceeds(all, 1.0) {
        sheet.verdict("over", found)
    } else {
        sheet.verdict("within", found)
    }
}
