//! The control transformer for a load with inrush, and what the coil sees at pull-in.

use super::prelude::*;

calculation! {
    "control-transformer-size": "Control transformer for sealed load and contactor inrush";
    rules "class-2-power";
    inputs {
        SEALED_LOAD = ApparentPower("sealed-load", "Volt-amperes of everything that stays on.")
            .between(0.0, 5000.0);
        INRUSH_LOAD = ApparentPower("inrush-load", "Volt-amperes of the largest coil while it pulls in.")
            .between(0.0, 5000.0);
        TRANSFORMER_RATING = ApparentPower("transformer-rating", "Volt-amperes of the transformer fitted, to compare.")
            .between(1.0, 5000.0).optional();
        EDITION;
    }
    outputs {
        COMBINED_LOAD = ApparentPower("combined-load", "Root of the squares of sealed and inrush.");
        LEAST_TRANSFORMER = ApparentPower("least-transformer", "Smallest common size that serves.");
        RATED_SECONDARY_CURRENT = Current("rated-secondary-current", "Current of that size at 24 V.");
    }
    verdicts {
        WORKED_OUT;
        ENOUGH = plain("enough", "The transformer fitted serves.");
        TOO_SMALL = plain("too-small", "The transformer fitted is smaller than the load asks for.");
    }
}

/// Sizes commonly sold, volt-amperes: common practice, no source.
const SIZES: [f64; 9] = [20.0, 40.0, 50.0, 60.0, 75.0, 100.0, 150.0, 200.0, 250.0];

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (sealed, inrush) = (sheet.need(SEALED_LOAD)?, sheet.need(INRUSH_LOAD)?);
    let apparent = |base| sealed.with(Power::of(base));
    let combined = apparent(sealed.number().hypot(inrush.number()));
    sheet.line(
        "S = sqrt(sealed^2 + inrush^2)",
        format!("sqrt({}^2 + {}^2)", keyed(sealed), keyed(inrush)),
        keyed(combined),
    );
    sheet.output(COMBINED_LOAD, combined);
    let needed = apparent(combined.number().max(sealed.number()));
    if let Some(size) = SIZES.into_iter().find(|size| !exceeds(needed.number(), *size)) {
        let put_in = format!("at or above {} among the usual sizes ({COMMON})", keyed(needed));
        sheet.line("smallest common size", put_in, keyed(apparent(size)));
        sheet.output(LEAST_TRANSFORMER, apparent(size));
        sheet.output(RATED_SECONDARY_CURRENT, amps(size / 24.0));
    }
    sheet.rule("class-2-power");
    sheet.source(format!(
        "{COMMON}: root-sum-square selection rule; a plain sum is more cautious"
    ));
    sheet.note(
        "a class 2 transformer that does not limit itself needs a fuse of at most 5 A up to 20 V, and 100 / V amperes \
         above (from memory); obey the size printed on it",
    );
    if needed.number() > 100.0 {
        sheet.note("above 100 VA the circuit is no longer class 2, and its wiring rules change");
    }
    let found = format!("{combined} with the coil pulling in");
    let Some(fitted) = sheet.maybe(TRANSFORMER_RATING) else {
        return sheet.verdict(WORKED_OUT, found);
    };
    sheet.at_most("load", needed, fitted, COMMON);
    if needed.exceeds(fitted) {
        sheet.verdict(TOO_SMALL, format!("{found}, more than the {fitted} fitted"))
    } else {
        sheet.verdict(ENOUGH, format!("{found}, and {fitted} is fitted"))
    }
}
