//! How long a capacitor takes to discharge through a resistor.

use super::prelude::*;
use uom::si::capacitance::farad;
use uom::si::f64::Capacitance;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "capacitor-discharge",
    title: "How long to hold the resistor across a capacitor before it is measured",
    inputs: &[
        Input::quantity("capacitance", Kind::Capacitance, "Capacitance of the section.").between(1e-9, 1.0),
        Input::quantity("resistor", Kind::Resistance, "Resistor held across it.")
            .between(10.0, 1e8)
            .or("20 kohm"),
        Input::quantity("capacitor-voltage", Kind::Voltage, "Peak voltage it may hold.")
            .between(1.0, 2000.0)
            .or("622 V"),
        Input::quantity("safe-voltage", Kind::Voltage, "Voltage to come below.")
            .between(0.1, 60.0)
            .or("50 V"),
    ],
    outputs: &[
        Output::quantity("time-constant", Kind::Time, "Resistance times capacitance."),
        Output::quantity(
            "wait",
            Kind::Time,
            "Five time constants, or longer when the safe voltage takes longer.",
        ),
        Output::quantity(
            "peak-power",
            Kind::Power,
            "Power in the resistor at the first instant.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let capacitance: Capacitance = sheet.need("capacitance")?;
    let resistor: ElectricalResistance = sheet.need("resistor")?;
    let from: ElectricPotential = sheet.need("capacitor-voltage")?;
    let to: ElectricPotential = sheet.need("safe-voltage")?;
    let seconds = resistor.get::<ohm>() * capacitance.get::<farad>();
    let time = |base| Quantity {
        kind: Kind::Time,
        base,
    };
    // At or below the safe voltage from the first there is nothing to wait for.
    let to_safe = seconds * share(from, to).max(1.0).ln();
    let wait = (5.0 * seconds).max(to_safe);
    sheet.work(
        "tau = R x C",
        format!("{} x {}", keyed(resistor), keyed(capacitance)),
        keyed(time(seconds)),
    );
    if exceeds(from, to) {
        sheet.work(
            "t = tau x ln(V / V_safe)",
            format!("{} x ln({} / {})", keyed(time(seconds)), keyed(from), keyed(to)),
            keyed(time(to_safe)),
        );
    }
    sheet.work(
        "wait = larger of 5 x tau and t",
        format!(
            "larger of 5 x {} and {}",
            keyed(time(seconds)),
            keyed(time(to_safe))
        ),
        keyed(time(wait)),
    );
    sheet.output("time-constant", time(seconds));
    sheet.output("wait", time(wait));
    sheet.output("peak-power", from * from / resistor);
    sheet.source("exponential discharge; OSHA 29 CFR 1910.333(b)(2)(ii)(C), 50 V as in NFPA 70E - https://www.law.cornell.edu/regulations/washington/WAC-296-24-975");
    sheet
        .note("power off and locked out first; then measure the capacitor: until a meter says so it is live");
    sheet.note("each section of a dual capacitor has to be discharged by itself");
    sheet.verdict(
        "worked-out",
        format!(
            "hold {} across it for at least {}, then measure",
            text(resistor),
            time(wait)
        ),
    )
}
