//! A capacitor read on the bench, disconnected and discharged.

use super::prelude::*;
use uom::si::f64::Capacitance;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "capacitor-bench",
    title: "Run or start capacitor read on the bench, and its voltage rating",
    inputs: &[
        Input::quantity(
            "measured-capacitance",
            Kind::Capacitance,
            "Reading, discharged and disconnected.",
        )
        .between(0.0, 0.01)
        .read(),
        Input::quantity(
            "capacitor-rating",
            Kind::Capacitance,
            "Capacitance on the label; the lower end of a range.",
        )
        .between(0.1e-6, 0.005),
        Input::quantity(
            "rating-high",
            Kind::Capacitance,
            "Upper end, where the label gives a range.",
        )
        .between(0.1e-6, 0.005)
        .optional(),
        Input::choice(
            "capacitor-kind",
            &["run", "start"],
            "Run capacitor or start capacitor.",
        )
        .or("run"),
        Input::quantity("tolerance", Kind::Ratio, "Tolerance on the label, either way.")
            .between(0.01, 0.5)
            .or("6 %"),
        voltage("voltage-rating", "Voltage rating of the capacitor fitted.").optional(),
        voltage(
            "voltage-required",
            "Voltage rating the equipment's diagram asks for.",
        )
        .optional(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("lowest-allowed", Kind::Capacitance, "Least allowed."),
        Output::quantity("highest-allowed", Kind::Capacitance, "Most allowed."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "Within the label."),
        VerdictKind::plain("low", "Below the label."),
        VerdictKind::plain("open", "Less than a tenth of the label: open."),
        VerdictKind::plain("high", "Above the label: a wrong part or a shorting one."),
        VerdictKind::violation(
            "voltage-too-low",
            "Its voltage rating is below what the equipment asks for.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["listed-use"])?;
    let measured: Capacitance = sheet.need("measured-capacitance")?;
    let rating: Capacitance = sheet.need("capacitor-rating")?;
    let upper: Option<Capacitance> = sheet.maybe("rating-high");
    let tolerance: f64 = sheet.need("tolerance")?;
    if let Some(upper) = upper.filter(|upper| exceeds(rating, *upper)) {
        return Err(InputError::Contradiction {
            what: format!(
                "`capacitor-rating` {} is above `rating-high` {}; give the lower end first",
                text(rating),
                text(upper)
            ),
        });
    }
    let (low, high) = match (upper, sheet.choice("capacitor-kind")) {
        (Some(upper), _) => (rating, upper),
        (None, Some("start")) => {
            sheet.assume("a start capacitor without a range may be up to 20 % above its label, and not below (from memory)");
            sheet.work(
                "C_high = 1.2 x C_rated",
                format!("1.2 x {}", keyed(rating)),
                keyed(rating * 1.2),
            );
            (rating, rating * 1.2)
        }
        (None, _) => {
            let (low, high) = (rating * (1.0 - tolerance), rating * (1.0 + tolerance));
            sheet.work(
                "C_low = C_rated x (1 - tolerance)",
                format!("{} x (1 - {})", keyed(rating), keyed_number(tolerance)),
                keyed(low),
            );
            sheet.work(
                "C_high = C_rated x (1 + tolerance)",
                format!("{} x (1 + {})", keyed(rating), keyed_number(tolerance)),
                keyed(high),
            );
            (low, high)
        }
    };
    sheet.output("lowest-allowed", low);
    sheet.output("highest-allowed", high);
    sheet.at_least("capacitance", measured, low, "label of the capacitor");
    sheet.at_most("capacitance", measured, high, "label of the capacitor");
    sheet.source("label of the capacitor (EIA-456-A for run capacitors)");
    sheet.note("discharge it through a resistor of 15 to 20 kilohm and prove it dead before touching it");
    if let (Some(fitted), Some(needed)) = (
        sheet.maybe::<ElectricPotential>("voltage-rating"),
        sheet.maybe::<ElectricPotential>("voltage-required"),
    ) {
        let rule = sheet.rule("listed-use");
        sheet.at_least("voltage rating", fitted, needed, rule);
        if exceeds(needed, fitted) {
            return sheet.verdict(
                "voltage-too-low",
                format!("rated {}, and {} is asked for", text(fitted), text(needed)),
            );
        }
    }
    let found = format!("{} against {} to {}", text(measured), text(low), text(high));
    if exceeds(rating * 0.1, measured) {
        sheet.verdict("open", found)
    } else if exceeds(low, measured) {
        sheet.verdict("low", found)
    } else if exceeds(measured, high) {
        sheet.verdict("high", found)
    } else {
        sheet.verdict("within", found)
    }
}
