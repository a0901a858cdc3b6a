//! A voltage against the range its equipment is made for.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "voltage-range",
    title: "Voltage at the terminals against the rated voltage and its tolerance",
    inputs: &[
        voltage("rated-voltage", "Voltage on the nameplate."),
        voltage("measured-voltage", "Voltage at the terminals, load running.").read(),
        Input::quantity("tolerance", Kind::Ratio, "Allowed either way.")
            .between(0.01, 0.3)
            .or("10 %"),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("lowest-voltage", Kind::Voltage, "Rated less tolerance."),
        Output::quantity("highest-voltage", Kind::Voltage, "Rated plus tolerance."),
    ],
    verdicts: &[
        VerdictKind::plain("inside", "Within the tolerance."),
        VerdictKind::plain("below", "Below the tolerance."),
        VerdictKind::plain("above", "Above the tolerance."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let rated: ElectricPotential = sheet.need("rated-voltage")?;
    let measured: ElectricPotential = sheet.need("measured-voltage")?;
    let tolerance: f64 = sheet.need("tolerance")?;
    let (low, high) = (rated * (1.0 - tolerance), rated * (1.0 + tolerance));
    let tolerance = Quantity::ratio(tolerance);
    sheet.work(
        "V_low = V x (1 - t)",
        format!("{} x (1 - {})", keyed(rated), keyed(tolerance)),
        keyed(low),
    );
    sheet.work(
        "V_high = V x (1 + t)",
        format!("{} x (1 + {})", keyed(rated), keyed(tolerance)),
        keyed(high),
    );
    sheet.output("lowest-voltage", low);
    sheet.output("highest-voltage", high);
    let source = sheet.table(&table::SUPPLY.equipment);
    sheet.at_least("voltage", measured, low, source.clone());
    sheet.at_most("voltage", measured, high, source);
    let found = format!("{} against {} to {}", text(measured), text(low), text(high));
    if exceeds(low, measured) {
        sheet.verdict("below", found)
    } else if exceeds(measured, high) {
        sheet.verdict("above", found)
    } else {
        sheet.verdict("inside", found)
    }
}
