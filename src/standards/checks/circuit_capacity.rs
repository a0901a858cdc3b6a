//! What a circuit may carry continuously.

use super::prelude::*;

calculation! {
    "circuit-capacity": "Amperes and watts a circuit may carry continuously";
    rules "continuous-loads";
    inputs {
        DEVICE "rating" = Current("protective-device-rating", "Rating of the breaker or fuse.").between(1.0, 6000.0);
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the circuit, for its watts.").optional();
        SHARE "share" = Ratio("share", "Share of the rating that may be used.").between(0.1, 1.0).or("80 %");
        EDITION;
    }
    outputs {
        ALLOWED_CURRENT "I" = Current("allowed-current", "Share of the rating.");
        ALLOWED_POWER "P" = Power("allowed-power", "That current at the voltage, power factor 1.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let allowed = sheet.give(ALLOWED_CURRENT, sheet.need(SHARE)? * sheet.need(DEVICE)?);
    sheet.rule("continuous-loads");
    let Some(voltage) = sheet.maybe(SUPPLY) else {
        return sheet.verdict(WORKED_OUT, format!("{allowed} continuously"));
    };
    let power = sheet.give(ALLOWED_POWER, voltage * allowed);
    sheet.verdict(WORKED_OUT, format!("{allowed} at {voltage}, which is {power}"))
}
