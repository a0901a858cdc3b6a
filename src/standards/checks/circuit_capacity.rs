//! What a circuit may carry continuously.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "circuit-capacity",
    title: "Amperes and watts a circuit may carry continuously",
    inputs: &[
        current("protective-device-rating", "Rating of the breaker or fuse.").between(1.0, 6000.0),
        voltage("supply-voltage", "Voltage of the circuit, for its watts.").optional(),
        Input::quantity("share", Kind::Ratio, "Share of the rating that may be used.")
            .between(0.1, 1.0)
            .or("80 %"),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("allowed-current", Kind::Current, "Share of the rating."),
        Output::quantity(
            "allowed-power",
            Kind::Power,
            "That current at the voltage, power factor 1.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["continuous-loads"])?;
    let device: ElectricCurrent = sheet.need("protective-device-rating")?;
    let part: f64 = sheet.need("share")?;
    let allowed = device * part;
    sheet.work(
        "I = share x rating",
        format!("{} x {}", keyed(Quantity::ratio(part)), keyed(device)),
        keyed(allowed),
    );
    sheet.output("allowed-current", allowed);
    sheet.rule("continuous-loads");
    let Some(voltage) = sheet.maybe::<ElectricPotential>("supply-voltage") else {
        return sheet.verdict("worked-out", format!("{} continuously", text(allowed)));
    };
    let power = allowed * voltage;
    sheet.work(
        "P = V x I",
        format!("{} x {}", keyed(voltage), keyed(allowed)),
        keyed(power),
    );
    sheet.output("allowed-power", power);
    sheet.verdict(
        "worked-out",
        format!("{} at {}, which is {}", text(allowed), text(voltage), text(power)),
    )
}
