//! What the loads of the two legs see when the neutral is lost.

use super::prelude::*;
use crate::electrical::neutral::open_neutral;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "open-neutral",
    title: "Leg voltages with the neutral open, from the loads on each leg",
    inputs: &[
        voltage("line-voltage", "Voltage between the two legs."),
        voltage(
            "leg-voltage",
            "Voltage of one leg to neutral, for loads given in watts.",
        )
        .optional(),
        resistance("leg-1-resistance", "Ohms of everything on the first leg.").optional(),
        resistance("leg-2-resistance", "Ohms of everything on the second leg.").optional(),
        Input::quantity(
            "leg-1-power",
            Kind::Power,
            "Watts of everything on the first leg.",
        )
        .in_unit("W")
        .between(0.1, 1e6)
        .instead_of(&["leg-1-resistance"])
        .optional(),
        Input::quantity(
            "leg-2-power",
            Kind::Power,
            "Watts of everything on the second leg.",
        )
        .in_unit("W")
        .between(0.1, 1e6)
        .instead_of(&["leg-2-resistance"])
        .optional(),
    ],
    outputs: &[
        Output::quantity("leg-1-resistance", Kind::Resistance, "Ohms of the first leg."),
        Output::quantity("leg-2-resistance", Kind::Resistance, "Ohms of the second leg."),
        Output::quantity(
            "leg-1-normal-current",
            Kind::Current,
            "Current of the first leg, neutral sound.",
        ),
        Output::quantity(
            "leg-2-normal-current",
            Kind::Current,
            "Current of the second leg, neutral sound.",
        ),
        Output::quantity(
            "open-current",
            Kind::Current,
            "Current through both, neutral open.",
        ),
        Output::quantity(
            "leg-1-open-voltage",
            Kind::Voltage,
            "What the first leg's loads see, neutral open.",
        ),
        Output::quantity(
            "leg-2-open-voltage",
            Kind::Voltage,
            "What the second leg's loads see, neutral open.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("harmless", "Both legs stay within 10 % of half the line voltage."),
        VerdictKind::plain(
            "damaging",
            "One leg rises more than 10 % above half the line voltage.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let line: ElectricPotential = sheet.need("line-voltage")?;
    let leg = sheet
        .maybe::<ElectricPotential>("leg-voltage")
        .unwrap_or(line / 2.0);
    if exceeds(leg, line) {
        return Err(InputError::Contradiction {
            what: format!(
                "`leg-voltage` {} is above `line-voltage` {}; a leg to neutral is a part of the line, so read both again",
                text(leg),
                text(line)
            ),
        });
    }
    let mut load = |ohms_name: &'static str, watts_name: &str| -> Result<ElectricalResistance, InputError> {
        match (
            sheet.maybe::<ElectricalResistance>(ohms_name),
            sheet.maybe::<Power>(watts_name),
        ) {
            (Some(ohms), _) => Ok(ohms),
            (None, Some(power)) => {
                let ohms = leg * leg / power;
                sheet.work(
                    "R = V^2 / P",
                    format!("({})^2 / {}", keyed(leg), keyed(power)),
                    keyed(ohms),
                );
                Ok(ohms)
            }
            (None, None) => Err(sheet.missing(ohms_name)),
        }
    };
    let first = load("leg-1-resistance", "leg-1-power")?;
    let second = load("leg-2-resistance", "leg-2-power")?;
    let open = open_neutral(line, first, second);
    sheet.work(
        "I = V / (R1 + R2)",
        format!("{} / ({} + {})", keyed(line), keyed(first), keyed(second)),
        keyed(open.current),
    );
    sheet.work(
        "V1 = I x R1",
        format!("{} x {}", keyed(open.current), keyed(first)),
        keyed(open.first),
    );
    sheet.work(
        "V2 = I x R2",
        format!("{} x {}", keyed(open.current), keyed(second)),
        keyed(open.second),
    );
    sheet.output("leg-1-resistance", first);
    sheet.output("leg-2-resistance", second);
    sheet.output("leg-1-normal-current", leg / first);
    sheet.output("leg-2-normal-current", leg / second);
    sheet.output("open-current", open.current);
    sheet.output("leg-1-open-voltage", open.first);
    sheet.output("leg-2-open-voltage", open.second);
    sheet.source("Kirchhoff's laws; resistive loads");
    let limit = leg * 1.1;
    sheet.at_most("leg voltage", open.first.max(open.second), limit, COMMON);
    let found = format!(
        "with the neutral open the legs see {} and {}",
        text(open.first),
        text(open.second)
    );
    if exceeds(open.first.max(open.second), limit) {
        sheet.verdict("damaging", found)
    } else {
        sheet.verdict("harmless", found)
    }
}
