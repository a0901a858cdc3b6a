//! Rating and place of the disconnect of cooling equipment.

use super::prelude::*;

calculation! {
    "disconnect-check": "Disconnect: ampere rating, sight and distance";
    rules "disconnect-rating", "disconnect-location";
    inputs {
        LOAD_CURRENTS = List<Current>("load-currents", "Rated-load or selection current of each load behind it.")
            .between(0.01, 2000.0).optional();
        DISCONNECT_RATING = Current("disconnect-rating", "Ampere rating of the disconnect, to compare.")
            .between(1.0, 3000.0).optional();
        DISTANCE = Length("distance", "Distance from the unit.").between(0.0, 1000.0).optional();
        IN_SIGHT = Choice("in-sight", "Whether it can be seen from the unit.")
            .among(&["yes", "no"]).optional();
        EDITION;
    }
    outputs {
        LEAST_RATING = Current("least-rating", "115 % of the loads together.");
        FARTHEST = Length("farthest", "Farthest it may be.");
    }
    verdicts {
        WORKED_OUT;
        ENOUGH = plain("enough", "Rating and, as far as given, place are right.");
        TOO_SMALL = violation("too-small", "Its rating is below 115 % of the loads.");
        TOO_FAR = violation("too-far", "It is not in sight, or farther than 50 ft.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let loads = sheet.list(LOAD_CURRENTS).all;
    let rating = sheet.maybe(DISCONNECT_RATING).map(Known::get);
    let distance = sheet.maybe(DISTANCE).map(Known::get);
    let in_sight = sheet.choice(IN_SIGHT);
    let place_given = distance.is_some() || in_sight.is_some();
    if loads.is_empty() && (rating.is_some() || !place_given) {
        return Err(sheet.missing(LOAD_CURRENTS));
    }
    let mut found = Vec::new();
    if !loads.is_empty() {
        let least = total(&loads) * 1.15;
        sheet.line(
            "least rating = 1.15 x sum of loads",
            format!("1.15 x ({})", sum_text(&loads)),
            keyed(least),
        );
        sheet.output(LEAST_RATING, least);
        let rule = sheet.rule("disconnect-rating");
        let Some(rating) = rating else {
            found.push(format!("it must be rated for at least {}", text(least)));
            return place(sheet, distance, in_sight, found, WORKED_OUT);
        };
        sheet.at_least("disconnect", rating, least, rule);
        if exceeds(least, rating) {
            return sheet.verdict(TOO_SMALL, format!("{} is below {}", text(rating), text(least)));
        }
        found.push(format!("{} is not below {}", text(rating), text(least)));
    }
    place(sheet, distance, in_sight, found, ENOUGH)
}

/// Judges the place as far as it is given, and ends.
fn place(
    mut sheet: Sheet<'_>,
    distance: Option<Length>,
    in_sight: Option<&str>,
    mut found: Vec<String>,
    verdict: VerdictKind,
) -> Answer {
    let fifty = Length::new::<foot>(50.0);
    let rule = sheet.rule("disconnect-location");
    sheet.output(FARTHEST, fifty);
    if let Some(distance) = distance {
        sheet.at_most("distance", distance, fifty, rule);
    }
    if in_sight == Some("no") || distance.is_some_and(|distance| exceeds(distance, fifty)) {
        return sheet.verdict(
            TOO_FAR,
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
