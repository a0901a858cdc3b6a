//! A capacitor read on the bench, disconnected and discharged.

use super::prelude::*;

calculation! {
    "capacitor-bench": "Run or start capacitor read on the bench, and its voltage rating";
    rules "listed-use";
    inputs {
        MEASURED_CAPACITANCE = Capacitance("measured-capacitance", "Reading, discharged and disconnected.")
            .between(0.0, 0.01).read();
        CAPACITOR_RATING "C_rated" = Capacitance("capacitor-rating", "Capacitance on the label; the lower end of a range.")
            .between(0.1e-6, 0.005);
        RATING_HIGH = Capacitance("rating-high", "Upper end, where the label gives a range.")
            .between(0.1e-6, 0.005).optional();
        CAPACITOR_KIND = OneOf<CapacitorKind>("capacitor-kind", "Run capacitor or start capacitor.").or("run");
        TOLERANCE "tolerance" = Ratio("tolerance", "Tolerance on the label, either way.").between(0.01, 0.5).or("6 %");
        VOLTAGE_RATING = Voltage("voltage-rating", "Voltage rating of the capacitor fitted.").optional();
        VOLTAGE_REQUIRED = Voltage("voltage-required", "Voltage rating the equipment's diagram asks for.")
            .optional();
        METER_ERROR;
    }
    outputs {
        LOWEST_ALLOWED = Capacitance("lowest-allowed", "Least allowed.");
        HIGHEST_ALLOWED = Capacitance("highest-allowed", "Most allowed.");
    }
    verdicts {
        WITHIN = plain("within", "Within the label.");
        LOW = plain("low", "Below the label.");
        OPEN = plain("open", "Less than a tenth of the label: open.");
        HIGH = plain("high", "Above the label: a wrong part or a shorting one.");
        VOLTAGE_TOO_LOW = violation("voltage-too-low", "Its voltage rating is below what the equipment asks for.");
    }
}

choice! { CapacitorKind { Run = "run", Start = "start" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (measured, rating) = (sheet.need(MEASURED_CAPACITANCE)?, sheet.need(CAPACITOR_RATING)?);
    let (upper, tolerance) = (sheet.maybe(RATING_HIGH), sheet.need(TOLERANCE)?.plain());
    if let Some(upper) = upper.filter(|upper| rating.exceeds(*upper)) {
        return Err(contradiction(format!(
            "`capacitor-rating` {rating} is above `rating-high` {upper}; give the lower end first"
        )));
    }
    let (low, high) = match (upper, sheet.need_one(CAPACITOR_KIND)?) {
        (Some(upper), _) => (rating, upper),
        (None, CapacitorKind::Start) => {
            sheet.assume("a start capacitor without a range may be up to 20 % above its label, and not below (from memory)");
            (rating, sheet.work("C_high", 1.2 * rating))
        }
        (None, CapacitorKind::Run) => (
            sheet.work("C_low", rating * (1.0 - tolerance)),
            sheet.work("C_high", rating * (1.0 + tolerance)),
        ),
    };
    sheet.output(LOWEST_ALLOWED, low);
    sheet.output(HIGHEST_ALLOWED, high);
    sheet.at_least("capacitance", measured, low, "label of the capacitor");
    sheet.at_most("capacitance", measured, high, "label of the capacitor");
    sheet.source("label of the capacitor (EIA-456-A for run capacitors)");
    sheet.note("discharge it through a resistor of 15 to 20 kilohm and prove it dead before touching it");
    if let (Some(fitted), Some(needed)) = (sheet.maybe(VOLTAGE_RATING), sheet.maybe(VOLTAGE_REQUIRED)) {
        let rule = sheet.rule("listed-use");
        sheet.at_least("voltage rating", fitted, needed, rule);
        if needed.exceeds(fitted) {
            return sheet.verdict(
                VOLTAGE_TOO_LOW,
                format!("rated {fitted}, and {needed} is asked for"),
            );
        }
    }
    let verdict = match () {
        () if (rating * 0.1).exceeds(measured) => OPEN,
        () if low.exceeds(measured) => LOW,
        () if measured.exceeds(high) => HIGH,
        () => WITHIN,
    };
    sheet.verdict(verdict, format!("{measured} against {low} to {high}"))
}
