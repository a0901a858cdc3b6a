//! Rating and place of the disconnect of cooling equipment.

use super::prelude::*;
use uom::si::length::foot;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "disconnect-check",
    title: "Disconnect: ampere rating, sight and distance",
    inputs: &[
        Input::list(
            "load-currents",
            Kind::Current,
            "Rated-load or selection current of each load behind it.",
        )
        .between(0.01, 2000.0),
        current("disconnect-rating", "Ampere rating of the disconnect.").between(1.0, 3000.0),
        Input::quantity("distance", Kind::Length, "Distance from the unit.")
            .between(0.0, 1000.0)
            .optional(),
        Input::choice(
            "in-sight",
            &["yes", "no"],
            "Whether it can be seen from the unit.",
        )
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("least-rating", Kind::Current, "115 % of the loads together."),
        Output::quantity("farthest", Kind::Length, "Farthest it may be."),
    ],
    verdicts: &[
        VerdictKind::plain("enough", "Rating and, as far as given, place are right."),
        VerdictKind::violation("too-small", "Its rating is below 115 % of the loads."),
        VerdictKind::violation("too-far", "It is not in sight, or farther than 50 ft."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &["disconnect-rating", "disconnect-location"],
    )?;
    let loads: Vec<ElectricCurrent> = sheet.list("load-currents");
    let rating: ElectricCurrent = sheet.need("disconnect-rating")?;
    let least = total(&loads) * 1.15;
    let fifty = Length::new::<foot>(50.0);
    sheet.work(
        "least rating = 1.15 x sum of loads",
        format!("1.15 x ({})", sum_text(&loads)),
        keyed(least),
    );
    sheet.output("least-rating", least);
    sheet.output("farthest", fifty);
    let rule = sheet.rule("disconnect-rating");
    sheet.at_least("disconnect", rating, least, rule);
    let place = sheet.rule("disconnect-location");
    if exceeds(least, rating) {
        return sheet.verdict("too-small", format!("{} is below {}", text(rating), text(least)));
    }
    let distance: Option<Length> = sheet.maybe("distance");
    if let Some(distance) = distance {
        sheet.at_most("distance", distance, fifty, place);
    } else {
        sheet.assume("`distance` not given: its place was not judged");
    }
    if sheet.choice("in-sight") == Some("no") || distance.is_some_and(|distance| exceeds(distance, fifty)) {
        return sheet.verdict(
            "too-far",
            "it must be in sight of the unit and not more than 50 ft away",
        );
    }
    sheet.verdict("enough", format!("{} is not below {}", text(rating), text(least)))
}
