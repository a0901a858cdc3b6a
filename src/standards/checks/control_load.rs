//! What a control transformer gives against what it is rated for.

use super::prelude::*;

/// The secondary voltage a control transformer is rated at, in volts.
const RATED_SECONDARY: f64 = 24.0;
/// Above this share nothing is left for the inrush of a contactor: common practice, no source.
const NEAR: f64 = 0.80;

calculation! {
    "control-load": "Load on the control transformer against its rating";
    rules "listed-use";
    inputs {
        TRANSFORMER_RATING "VA" = ApparentPower("transformer-rating", "Volt-amperes on the transformer's label.")
            .between(1.0, 2000.0);
        SECONDARY_CURRENT "I" = Current("secondary-current", "Current in the secondary with everything called for.")
            .between(0.0, 100.0).read();
        SECONDARY_VOLTAGE "V" = Voltage("secondary-voltage", "Voltage of the secondary under that load.")
            .between(1.0, 60.0).optional().read();
        METER_ERROR;
        EDITION;
    }
    outputs {
        RATED_SECONDARY_CURRENT "I_rated" = Current("rated-secondary-current", "Current the transformer may give at 24 V.");
        LOAD_SHARE "share" = Ratio("load-share", "Secondary current over that.");
    }
    verdicts {
        WITHIN = plain("within", "At most 80 % of rating.");
        NEAR_LIMIT = plain("near-limit", "Above 80 % of rating: little is left for a contactor to pull in.");
        OVER = violation("over", "Above rating.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (rating, current) = (sheet.need(TRANSFORMER_RATING)?, sheet.need(SECONDARY_CURRENT)?);
    let rated = sheet.give(
        RATED_SECONDARY_CURRENT,
        rating / Known::fixed(volts(RATED_SECONDARY)),
    );
    let part = sheet.give(LOAD_SHARE, current / rated);
    if let Some(voltage) = sheet.maybe(SECONDARY_VOLTAGE) {
        sheet.work(Symbol::of("VA", Kind::ApparentPower), voltage * current);
        // The winding is heated by current, so a sagging voltage does not excuse it.
        sheet
            .note("the share is by current: a secondary that sags below 24 V carries fewer VA and is as hot");
    }
    let rule = sheet.rule("listed-use");
    sheet.at_most("secondary current", current, rated, rule);
    sheet.at_most("secondary current", current, rated * NEAR, COMMON);
    let verdict = match () {
        () if current.exceeds(rated) => OVER,
        () if current.exceeds(rated * NEAR) => NEAR_LIMIT,
        () => WITHIN,
    };
    sheet.verdict(verdict, format!("{current} is {part} of the {rated} it may give"))
}
