//! A heater or a motor added to a unit that has a nameplate of its own, on one supply.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "accessory-added",
    title: "Minimum circuit ampacity of a unit with a heater or motor added on the same supply",
    inputs: &[
        current(
            "unit-minimum-circuit-ampacity",
            "Minimum circuit ampacity of the unit alone.",
        ),
        current(
            "unit-maximum-overcurrent-protection",
            "Maximum device of the unit alone.",
        )
        .optional(),
        current(
            "heater-current",
            "Current of electric heat that may run with the unit.",
        )
        .optional(),
        Input::list(
            "motor-currents",
            Kind::Current,
            "Full-load current of each motor added.",
        )
        .between(0.01, 1000.0)
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "minimum-circuit-ampacity",
            Kind::Current,
            "Minimum circuit ampacity of all together.",
        ),
        Output::quantity(
            "maximum-overcurrent-protection",
            Kind::Current,
            "Maximum device, when the unit's is given.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain(
            "maximum-stays",
            "The marked maximum device still covers the new minimum.",
        ),
        VerdictKind::plain(
            "maximum-too-small",
            "The new minimum is above the marked maximum: ask the maker for a new marking.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &["product-mca", "combination-load-conductors"],
    )?;
    let unit: ElectricCurrent = sheet.need("unit-minimum-circuit-ampacity")?;
    let motors: Vec<ElectricCurrent> = sheet.list("motor-currents");
    let heater: Option<ElectricCurrent> = sheet.maybe("heater-current");
    if heater.is_none() && motors.is_empty() {
        return Err(sheet.missing("heater-current"));
    }
    let heater = heater.unwrap_or_else(|| amps(0.0));
    let ampacity = unit + heater * 1.25 + total(&motors);
    sheet.work(
        "MCA = MCA_unit + 1.25 x heater + sum of motors",
        format!(
            "{} + 1.25 x {} + ({})",
            keyed(unit),
            keyed(heater),
            sum_text(&motors)
        ),
        keyed(ampacity),
    );
    sheet.output("minimum-circuit-ampacity", ampacity);
    let rule = sheet.rule("product-mca");
    sheet.rule("combination-load-conductors");
    let Some(most) = sheet.maybe::<ElectricCurrent>("unit-maximum-overcurrent-protection") else {
        return sheet.verdict(
            "worked-out",
            format!("unit and additions together need {}", text(ampacity)),
        );
    };
    if exceeds(unit, most) {
        return Err(InputError::Contradiction {
            what: format!(
                "`unit-minimum-circuit-ampacity` {} is above `unit-maximum-overcurrent-protection` {}; read both lines again",
                text(unit),
                text(most)
            ),
        });
    }
    sheet.at_most("new minimum", ampacity, most, rule);
    sheet.output("maximum-overcurrent-protection", most);
    let found = format!("unit and additions together need {}", text(ampacity));
    if exceeds(ampacity, most) {
        sheet.verdict(
            "maximum-too-small",
            format!("{found}, above the marked maximum of {}", text(most)),
        )
    } else {
        sheet.verdict(
            "maximum-stays",
            format!("{found}, which the marked maximum of {} covers", text(most)),
        )
    }
}
