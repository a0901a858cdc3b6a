//! Equipment grounding conductor for a device, enlarged with the circuit conductors.

use super::prelude::*;
use super::usable::metal;
use crate::quantity::ConductorSize;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "grounding-conductor",
    title: "Smallest equipment grounding conductor",
    inputs: &[
        current("protective-device-rating", "Device ahead of the circuit.").between(1.0, 1200.0),
        Input::choice(
            "grounding-metal",
            &["copper", "aluminum"],
            "Metal of the grounding conductor.",
        )
        .or("copper"),
        Input::size(
            "conductor-size",
            "Circuit conductor fitted, where it was enlarged.",
        )
        .optional(),
        Input::size("least-size", "Circuit conductor that would have been enough.").optional(),
        Input::size("grounding-size", "Grounding conductor fitted, to compare.").optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::new(
            "least-grounding-size",
            ValueKind::Size,
            "Smallest grounding conductor.",
        ),
        Output::quantity("least-area", Kind::Area, "Its area after enlarging."),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("enough", "The grounding conductor fitted is large enough."),
        VerdictKind::violation("too-small", "The grounding conductor fitted is too small."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["egc-size"])?;
    let device: ElectricCurrent = sheet.need("protective-device-rating")?;
    let metal = metal(sheet.choice("grounding-metal")).ok_or_else(|| sheet.missing("grounding-metal"))?;
    let name = sheet.table(&table::GROUNDING.equipment_grounding);
    let rule = sheet.rule("egc-size");
    let Some(by_table) = lookup::grounding_conductor(device, metal) else {
        return sheet.cannot_tell(format!("{name} ends at 1200 A"));
    };
    sheet.work(
        "table size",
        format!("{name}, {} device, {metal}", keyed(device)),
        by_table.to_string(),
    );
    let mut mils = by_table.circular_mils();
    let fitted = sheet.size("conductor-size");
    if let (Some(fitted), Some(least)) = (fitted, sheet.size("least-size"))
        && fitted > least
    {
        let ratio = fitted.circular_mils() / least.circular_mils();
        mils *= ratio;
        sheet.work(
            "area = table area x fitted / least",
            format!(
                "{} cmil x {} cmil / {} cmil",
                keyed_number(by_table.circular_mils()),
                keyed_number(fitted.circular_mils()),
                keyed_number(least.circular_mils())
            ),
            format!("{} cmil", keyed_number(mils)),
        );
    }
    // A gauge's nominal area may fall a hair below the product of two others; no one means the next size then.
    let enough = |size: &ConductorSize| size.circular_mils() >= mils * (1.0 - 1e-6);
    let mut size = ConductorSize::ALL.into_iter().find(enough).unwrap_or(by_table);
    if let Some(fitted) = fitted
        .and_then(ConductorSize::for_tables)
        .filter(|fitted| size > *fitted)
    {
        sheet.note("it need not be larger than the circuit conductors");
        size = fitted;
    }
    sheet.output_value("least-grounding-size", size);
    sheet.output(
        "least-area",
        Quantity {
            kind: Kind::Area,
            base: mils * crate::quantity::circular_mil(),
        },
    );
    let Some(there) = sheet.size("grounding-size") else {
        return sheet.verdict("worked-out", format!("{size} {metal}"));
    };
    sheet.at_least("area", there.area(), size.area(), rule);
    if there < size {
        sheet.verdict(
            "too-small",
            format!("{there} fitted, {size} {metal} is the least"),
        )
    } else {
        sheet.verdict("enough", format!("{there} fitted, {size} {metal} is the least"))
    }
}
