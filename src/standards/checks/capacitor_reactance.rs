//! Reactance of a capacitor, and the current it should pass.

use super::prelude::*;
use crate::electrical::capacitor::reactance;
use uom::si::f64::{Capacitance, Frequency};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "capacitor-reactance",
    title: "Reactance of a capacitor and the current it should pass",
    inputs: &[
        Input::quantity("capacitance", Kind::Capacitance, "Capacitance.").between(1e-12, 1.0),
        Input::quantity("frequency", Kind::Frequency, "Frequency.")
            .between(1.0, 1e6)
            .or("60 Hz"),
        voltage("capacitor-voltage", "Voltage across it, to work out its current.").optional(),
    ],
    outputs: &[
        Output::quantity("reactance", Kind::Resistance, "Reactance."),
        Output::quantity("expected-current", Kind::Current, "Current at that voltage."),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let capacitance: Capacitance = sheet.need("capacitance")?;
    let frequency: Frequency = sheet.need("frequency")?;
    let found = reactance(capacitance, frequency);
    sheet.work(
        "X = 1 / (2 x pi x f x C)",
        format!("1 / (2 x pi x {} x {})", keyed(frequency), keyed(capacitance)),
        keyed(found),
    );
    sheet.output("reactance", found);
    sheet.source("definition of capacitance");
    let Some(voltage) = sheet.maybe::<ElectricPotential>("capacitor-voltage") else {
        return sheet.verdict("worked-out", text(found));
    };
    let current = voltage / found;
    sheet.work(
        "I = V / X",
        format!("{} / {}", keyed(voltage), keyed(found)),
        keyed(current),
    );
    sheet.output("expected-current", current);
    sheet.verdict(
        "worked-out",
        format!(
            "{}, which passes {} at {}",
            text(found),
            text(current),
            text(voltage)
        ),
    )
}
