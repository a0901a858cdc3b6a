//! What a bad joint in series does to a resistive load.

use super::prelude::*;
use crate::electrical::{heater, joint};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "series-joint",
    title: "A bad joint in series with a heater: current, and heat in each",
    inputs: &[
        Input::quantity("heater-power", Kind::Power, "Rated power of the load.").between(1.0, 1e6),
        voltage("supply-voltage", "Voltage of the supply, and of the rating."),
        Input::quantity("joint-resistance", Kind::Resistance, "Ohms of the joint.").between(0.0, 1e6),
    ],
    outputs: &[
        Output::quantity("element-resistance", Kind::Resistance, "Ohms of the load."),
        Output::quantity(
            "normal-current",
            Kind::Current,
            "Current without the joint's ohms.",
        ),
        Output::quantity("total-resistance", Kind::Resistance, "Load and joint."),
        Output::quantity("fault-current", Kind::Current, "Current with them."),
        Output::quantity("element-power", Kind::Power, "Left in the load."),
        Output::quantity("joint-heat", Kind::Power, "Made in the joint."),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let power: Power = sheet.need("heater-power")?;
    let supply: ElectricPotential = sheet.need("supply-voltage")?;
    let bad: ElectricalResistance = sheet.need("joint-resistance")?;
    let element = heater::resistance(power, supply);
    let normal = supply / element;
    let all = element + bad;
    let fault = supply / all;
    let (in_element, in_joint) = (joint::heat(element, fault), joint::heat(bad, fault));
    sheet.work(
        "R = V^2 / P",
        format!("({})^2 / {}", keyed(supply), keyed(power)),
        keyed(element),
    );
    sheet.work(
        "I_normal = V / R",
        format!("{} / {}", keyed(supply), keyed(element)),
        keyed(normal),
    );
    sheet.work(
        "I = V / (R + R_joint)",
        format!("{} / ({} + {})", keyed(supply), keyed(element), keyed(bad)),
        keyed(fault),
    );
    sheet.work(
        "P_element = I^2 x R",
        format!("({})^2 x {}", keyed(fault), keyed(element)),
        keyed(in_element),
    );
    sheet.work(
        "P_joint = I^2 x R_joint",
        format!("({})^2 x {}", keyed(fault), keyed(bad)),
        keyed(in_joint),
    );
    sheet.output("element-resistance", element);
    sheet.output("normal-current", normal);
    sheet.output("total-resistance", all);
    sheet.output("fault-current", fault);
    sheet.output("element-power", in_element);
    sheet.output("joint-heat", in_joint);
    sheet.source("Ohm's and Joule's laws");
    sheet.verdict(
        "worked-out",
        format!(
            "the joint makes {} of heat while the current falls from {} to {}",
            text(in_joint),
            text(normal),
            text(fault)
        ),
    )
}
