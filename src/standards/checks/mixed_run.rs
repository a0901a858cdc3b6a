//! A run of several sizes one after the other, each with its own longest length.

use super::prelude::*;

calculation! {
    "mixed-run": "A run of several sizes: share of the allowed drop each uses up";
    inputs {
        RUN_LENGTHS = List<Length>("run-lengths", "Length of each part, in order.").between(0.0, 10_000.0);
        LONGEST_LENGTHS = List<Length>("longest-lengths", "Longest length a table allows for the size of each part, in the same order.")
            .between(0.1, 100_000.0);
    }
    outputs {
        SHARES = List<Ratio>("shares", "Share of the allowed drop of each part.");
        TOTAL_SHARE = Ratio("total-share", "Of all parts together.");
    }
    verdicts {
        WITHIN = plain("within", "All parts together use no more than the allowed drop.");
        OVER = plain("over", "All parts together use more than the allowed drop.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (lengths, longest) = (sheet.list(RUN_LENGTHS).all, sheet.list(LONGEST_LENGTHS).all);
    if lengths.len() != longest.len() {
        return Err(contradiction(format!(
            "`run-lengths` has {} entries and `longest-lengths` {}; give one of each for every part",
            lengths.len(),
            longest.len()
        )));
    }
    let part = |(length, longest)| Known::called("length", length) / Known::called("longest", longest);
    let parts = lengths.into_iter().zip(longest).map(part);
    let shares = parts.map(|part| sheet.work("share", part).get()).collect();
    let shares = Listed::new("sum of shares", shares);
    let total = sheet.work("total", shares.sum());
    sheet.output_value(SHARES, Value::Quantities(shares.quantities()));
    sheet.output(TOTAL_SHARE, total);
    let source = "Submersible pump application manual, mixed cable sizes - http://www.franklin-electric.com/business/WaterSystems/Service/AIM/page-12.aspx";
    sheet.source(source);
    sheet.at_most("total share", total, Quantity::ratio(1.0), source);
    let verdict = if exceeds(total.number(), 1.0) {
        OVER
    } else {
        WITHIN
    };
    sheet.verdict(verdict, format!("{total} of the allowed drop is used"))
}
