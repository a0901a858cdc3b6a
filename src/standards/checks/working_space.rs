//! Clear space in front of equipment that is examined live.

use super::prelude::*;
use uom::si::length::foot;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "working-space",
    title: "Clear working space before equipment that is tested live",
    inputs: &[
        voltage("voltage-to-ground", "Highest voltage to ground in it."),
        Input::choice(
            "opposite",
            &["nothing", "grounded", "live"],
            "What faces it: nothing live or grounded; a grounded surface such as concrete; live parts.",
        ),
        Input::quantity("depth", Kind::Length, "Clear depth in front of it.").between(0.0, 100.0),
        Input::quantity("width", Kind::Length, "Clear width.")
            .between(0.0, 100.0)
            .optional(),
        Input::quantity("height", Kind::Length, "Clear height.")
            .between(0.0, 100.0)
            .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("least-depth", Kind::Length, "Least depth."),
        Output::quantity(
            "least-width",
            Kind::Length,
            "Least width, or the equipment's if larger.",
        ),
        Output::quantity(
            "least-height",
            Kind::Length,
            "Least height, or the equipment's if larger.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("enough", "The space measured is enough."),
        VerdictKind::violation("too-little", "The space measured is too little."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["working-space"])?;
    let to_ground: ElectricPotential = sheet.need("voltage-to-ground")?;
    let feet = Length::new::<foot>;
    let column = match sheet.choice("opposite") {
        Some("live") => 2,
        Some("grounded") => 1,
        _ => 0,
    };
    // NEC Table 110.26(A)(1); the figures are from memory, as the rule's own entry says.
    let row: [f64; 3] = match to_ground.get::<volt>() {
        v if v <= 150.0 => [3.0, 3.0, 3.0],
        v if v <= 600.0 => [3.0, 3.5, 4.0],
        _ => [3.0, 4.0, 5.0],
    };
    let least = [feet(row[column]), feet(2.5), feet(6.5)];
    for (name, length) in ["least-depth", "least-width", "least-height"]
        .into_iter()
        .zip(least)
    {
        sheet.output(name, length);
    }
    let rule = sheet.rule("working-space");
    sheet.work(
        "depth by voltage and what faces it",
        format!("{} to ground, {rule}", keyed(to_ground)),
        keyed(least[0]),
    );
    sheet.note("the depth table is from memory; the space must also be kept free of storage");
    let mut short = Vec::new();
    for (name, least) in ["depth", "width", "height"].into_iter().zip(least) {
        if let Some(there) = sheet.maybe::<Length>(name) {
            sheet.at_least(name, there, least, rule.clone());
            if exceeds(least, there) {
                short.push(format!("{name} {} of {}", text(there), text(least)));
            }
        } else {
            sheet.assume(format!("`{name}` not given: not judged"));
        }
    }
    if short.is_empty() {
        sheet.verdict("enough", "the space measured is enough")
    } else {
        sheet.verdict("too-little", short.join("; "))
    }
}
