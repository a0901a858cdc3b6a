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
        .between(0.01, 2000.0)
        .optional(),
        current(
            "disconnect-rating",
            "Ampere rating of the disconnect, to compare.",
        )
        .between(1.0, 3000.0)
        .optional(),
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
        WORKED_OUT,
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
    let rating: Option<ElectricCurrent> = sheet.maybe("disconnect-rating");
    let distance: Option<Length> = sheet.maybe("distance");
    let in_sight = sheet.choice("in-sight");
    let place_given = distance.is_some() || in_sight.is_some();
    if loads.is_empty() && (rating.is_some() || !place_given) {
        return Err(sheet.missing("load-currents"));
    }
    let mut found = Vec::new();
    if !loads.is_empty() {
        let least = total(&loads) * 1.15;
        sheet.work(
            "least rating = 1.15 x sum of loads",
            format!("1.15 x ({})", sum_text(&loads)),
            keyed(least),
        );
        sheet.output("least-rating", least);
        let rule = sheet.rule("disconnect-rating");
        let Some(rating) = rating else {
            found.push(format!("it must be rated for at least {}", text(least)));
            return place(sheet, distance, in_sight, found, "worked-out");
        };
        sheet.at_least("disconnect", rating, least, rule);
        if exceeds(least, rating) {
            return sheet.verdict("too-small", format!("{} is below {}", text(rating), text(least)));
        }
        found.push(format!("{} is not below {}", text(rating), text(least)));
    }
    place(sheet, distance, in_sight, found, "enough")
}

/// Judges the place as far as it is given, and ends.
fn place(
    mut sheet: Sheet<'_>,
    distance: Option<Length>,
    in_sight: Option<&str>,
    mut found: Vec<String>,
    verdict: &'static str,
) -> Result<Report, InputError> {
    let fifty = Length::new::<foot>(50.0);
    let rule = sheet.rule("disconnect-location");
    sheet.output("farthest", fifty);
    if let Some(distance) = distance {
        sheet.at_most("distance", distance, fifty, rule);
    }
    if in_sight == Some("no") || distance.is_some_and(|distance| exceeds(distance, fifty)) {
        return sheet.verdict(
            "too-far",
            "it must be in sight of the unit and not more than 50 ft away",
        );
    }
    match (distance, in_sight) {
        (None, None) => sheet.assume("`distance` and `in-sight` not given: its place was not judged"),
        (Some(_), None) => {
            sheet.assume("`in-sight` not given: within 50 ft counts only where it can be seen too")
        }
        (None, Some(_)) => sheet.assume("`distance` not given: in sight counts only within 50 ft"),
        (Some(distance), Some(_)) => found.push(format!("it is in sight, {} away", text(distance))),
    }
    if found.is_empty() {
        found.push("its place is right as far as given; its rating was not judged".to_owned());
    }
    sheet.verdict(verdict, found.join("; "))
}
