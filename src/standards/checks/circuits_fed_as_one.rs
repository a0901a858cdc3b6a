//! A heater kit marked for several supply circuits that is fed from fewer.

use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{EDITION_INPUT, Sheet, exceeds, text};
use crate::quantity::{Kind, Quantity};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "circuits-fed-as-one",
    title: "Supply circuits the nameplate asks for against those brought to the unit",
    inputs: &[
        Input::quantity(
            "protective-device-rating",
            Kind::Current,
            "Rating of the largest device that feeds the unit.",
        )
        .between(1.0, 6000.0),
        Input::list(
            "nameplate-circuits",
            Kind::Current,
            "Maximum device of each supply circuit on the nameplate.",
        )
        .between(1.0, 1000.0),
        Input::quantity(
            "circuits-supplied",
            Kind::Count,
            "Separate supply circuits that come into the unit.",
        )
        .between(1.0, 20.0),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "circuits-required",
            Kind::Count,
            "Circuits the nameplate asks for.",
        ),
        Output::quantity("circuits-supplied", Kind::Count, "Circuits that are there."),
        Output::quantity(
            "largest-circuit",
            Kind::Current,
            "Largest device any one circuit of the nameplate may have.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain(
            "as-marked",
            "There are as many circuits as the nameplate asks for.",
        ),
        VerdictKind::violation("merged", "Circuits that must be apart are fed from one device."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["heat-subdivision", "listed-use"])?;
    let device: ElectricCurrent = sheet.need("protective-device-rating")?;
    let marked: Vec<ElectricCurrent> = sheet.list("nameplate-circuits");
    let supplied: f64 = sheet.need("circuits-supplied")?;
    let required = marked.len() as f64;
    let largest = marked
        .iter()
        .copied()
        .fold(ElectricCurrent::new::<ampere>(0.0), ElectricCurrent::max);
    let list = marked
        .iter()
        .map(|circuit| text(*circuit))
        .collect::<Vec<_>>()
        .join(", ");
    sheet.output("circuits-required", Quantity::count(marked.len()));
    sheet.output(
        "circuits-supplied",
        Quantity {
            kind: Kind::Count,
            base: supplied,
        },
    );
    sheet.output("largest-circuit", largest);
    sheet.work(
        "supplied >= marked",
        format!("{supplied} >= {required}"),
        if supplied < required { "broken" } else { "holds" },
    );
    let rule = sheet.rule("listed-use");
    let heat = sheet.rule("heat-subdivision");
    sheet.at_least(
        "supply circuits",
        Quantity {
            kind: Kind::Count,
            base: supplied,
        },
        Quantity::count(marked.len()),
        rule,
    );
    sheet.at_most("device of any one circuit", device, largest, heat);
    if supplied < required {
        return sheet.verdict(
            "merged",
            format!(
                "the nameplate asks for {required} circuits ({list}) and {supplied} {} there, so elements marked for \
                 smaller devices stand behind the {} one",
                if supplied == 1.0 { "is" } else { "are" },
                text(device)
            ),
        );
    }
    if exceeds(device, largest) {
        return sheet.cannot_tell(format!(
            "the count agrees, but the {} device is above every circuit on the nameplate ({list}): count again which \
             breakers must be off before every line terminal is dead",
            text(device)
        ));
    }
    sheet.verdict(
        "as-marked",
        format!("the nameplate asks for {required} circuits ({list}) and {supplied} are there"),
    )
}
