//! The size that has so many circular mils, and the size of the other metal that does the same.

use super::prelude::*;
use super::usable::metal;
use crate::quantity::ConductorSize;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "conductor-area",
    title: "Conductor size from circular mils, and its equal in copper or aluminum",
    inputs: &[
        Input::quantity("conductor-area", Kind::Area, "Metal area wanted.")
            .in_unit("cmil")
            // 100 to 3,000,000 circular mils in square meters.
            .between(5e-8, 1.6e-3)
            .optional(),
        Input::size("conductor-size", "Size of the conductor, instead of an area.")
            .instead_of(&["conductor-area"])
            .optional(),
        METAL,
        Input::quantity(
            "aluminum-for-copper",
            Kind::Ratio,
            "Circular mils of aluminum that drop no more than one of copper: 1.6, or 1.64 by the constants 21.2 and 12.9.",
        )
        .in_unit("")
        .between(1.4, 1.8)
        .or("1.6"),
    ],
    outputs: &[
        Output::quantity("conductor-area", Kind::Area, "Metal area."),
        Output::new("least-size", ValueKind::Size, "Smallest size of at least that area."),
        Output::quantity(
            "equivalent-area",
            Kind::Area,
            "Area of the other metal that drops no more voltage.",
        ),
        Output::new(
            "equivalent-size",
            ValueKind::Size,
            "Smallest size of the other metal of at least that area.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
    let mils = match (
        sheet.maybe::<Quantity>("conductor-area"),
        sheet.size("conductor-size"),
    ) {
        (Some(area), _) => area.base / crate::quantity::circular_mil(),
        (None, Some(size)) => size.circular_mils(),
        (None, None) => return Err(sheet.missing("conductor-area")),
    };
    let factor: f64 = sheet.need("aluminum-for-copper")?;
    let (other, other_mils, formula) = match metal {
        table::Metal::Copper => (
            table::Metal::Aluminium,
            mils * factor,
            "cmil aluminum = k x cmil copper",
        ),
        table::Metal::Aluminium => (
            table::Metal::Copper,
            mils / factor,
            "cmil copper = cmil aluminum / k",
        ),
    };
    let area = |mils: f64| Quantity {
        kind: Kind::Area,
        base: mils * crate::quantity::circular_mil(),
    };
    sheet.output("conductor-area", area(mils));
    sheet.output("equivalent-area", area(other_mils));
    let sizes = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let own = smallest_of(mils, metal);
    let equal = smallest_of(other_mils, other);
    let shown = |mils: f64| format!("{} cmil", keyed_number(mils));
    let conversion = match metal {
        table::Metal::Copper => format!("{factor} x {}", shown(mils)),
        table::Metal::Aluminium => format!("{} / {factor}", shown(mils)),
    };
    sheet.work(formula, conversion, shown(other_mils));
    for (name, found, metal, mils) in [
        ("least-size", own, metal, mils),
        ("equivalent-size", equal, other, other_mils),
    ] {
        if let Some(size) = found {
            sheet.work(
                "smallest size of at least that area",
                format!("{}, {metal} sizes of {sizes}", shown(mils)),
                format!("{size}, {}", shown(size.circular_mils())),
            );
            sheet.output_value(name, size);
        }
    }
    sheet.source("Formulas for wire sizes and voltage drop (aluminum: 1.6 times the circular mils) - http://epb.apogee.net/foe/frvf.asp");
    sheet.note(
        "equal in voltage drop only: what each may carry, its terminals and its joints are judged apart (conductor-ampacity)",
    );
    let name = |found: Option<ConductorSize>, metal: table::Metal| match found {
        Some(size) => format!("{size} {metal}"),
        None => format!("no single {metal} size of the tables"),
    };
    sheet.verdict(
        "worked-out",
        format!(
            "{mils:.0} cmil is {}; its equal in {other} is {other_mils:.0} cmil, {}",
            name(own, metal),
            name(equal, other)
        ),
    )
}

/// The smallest size of the ampacity table with at least so many circular mils.
fn smallest_of(mils: f64, metal: table::Metal) -> Option<ConductorSize> {
    ConductorSize::ALL.into_iter().find(|size| {
        // Tables round the areas of the gauge to about four figures.
        size.circular_mils() >= mils * (1.0 - 5e-4)
            && lookup::ampacity(*size, metal, table::Column::C75).is_some()
    })
}
