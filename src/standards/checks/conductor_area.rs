//! The size that has so many circular mils, and the size of the other metal that does the same.

use super::prelude::*;

calculation! {
    "conductor-area": "Conductor size from circular mils, and its equal in copper or aluminum";
    inputs {
        // 100 to 3,000,000 circular mils in square meters.
        CONDUCTOR_AREA = Area("conductor-area", "Metal area wanted.")
            .in_unit("cmil").between(5e-8, 1.6e-3).optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor, instead of an area.")
            .instead_of(&["conductor-area"]).optional();
        METAL;
        ALUMINUM_FOR_COPPER = Ratio("aluminum-for-copper", "Circular mils of aluminum that drop no more than one of copper: 1.6, or 1.64 by the constants 21.2 and 12.9.")
            .in_unit("").between(1.4, 1.8).or("1.6");
    }
    outputs {
        CONDUCTOR_AREA_OUT = Area("conductor-area", "Metal area.");
        LEAST_SIZE = Size("least-size", "Smallest size of at least that area.");
        EQUIVALENT_AREA = Area("equivalent-area", "Area of the other metal that drops no more voltage.");
        EQUIVALENT_SIZE = Size("equivalent-size", "Smallest size of the other metal of at least that area.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let metal = sheet.need_one(METAL)?;
    let mils = match (
        sheet.maybe(CONDUCTOR_AREA).map(Known::quantity),
        sheet.size(CONDUCTOR_SIZE),
    ) {
        (Some(area), _) => area.base / crate::quantity::circular_mil(),
        (None, Some(size)) => size.circular_mils(),
        (None, None) => return Err(sheet.missing(CONDUCTOR_AREA)),
    };
    let factor = sheet.need(ALUMINUM_FOR_COPPER)?.number();
    let (other, other_mils, formula) = match metal {
        Metal::Copper => (Metal::Aluminium, mils * factor, "cmil aluminum = k x cmil copper"),
        Metal::Aluminium => (Metal::Copper, mils / factor, "cmil copper = cmil aluminum / k"),
    };
    let area = |mils: f64| Quantity {
        kind: Kind::Area,
        base: mils * crate::quantity::circular_mil(),
    };
    sheet.output(CONDUCTOR_AREA_OUT, area(mils));
    sheet.output(EQUIVALENT_AREA, area(other_mils));
    let sizes = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let own = smallest_of(mils, metal);
    let equal = smallest_of(other_mils, other);
    let shown = |mils: f64| format!("{} cmil", keyed_number(mils));
    let conversion = match metal {
        Metal::Copper => format!("{factor} x {}", shown(mils)),
        Metal::Aluminium => format!("{} / {factor}", shown(mils)),
    };
    sheet.line(formula, conversion, shown(other_mils));
    for (name, found, metal, mils) in [
        (LEAST_SIZE, own, metal, mils),
        (EQUIVALENT_SIZE, equal, other, other_mils),
    ] {
        if let Some(size) = found {
            sheet.line(
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
    let name = |found: Option<ConductorSize>, metal: Metal| match found {
        Some(size) => format!("{size} {metal}"),
        None => format!("no single {metal} size of the tables"),
    };
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{mils:.0} cmil is {}; its equal in {other} is {other_mils:.0} cmil, {}",
            name(own, metal),
            name(equal, other)
        ),
    )
}

/// The smallest size of the ampacity table with at least so many circular mils.
fn smallest_of(mils: f64, metal: Metal) -> Option<ConductorSize> {
    ConductorSize::ALL.into_iter().find(|size| {
        // Tables round the areas of the gauge to about four figures.
        size.circular_mils() >= mils * (1.0 - 5e-4) && lookup::ampacity(*size, metal, Column::C75).is_some()
    })
}
