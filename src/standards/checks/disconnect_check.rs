//! Rating and place of the disconnect of cooling equipment.

use super::prelude::*;

calculation! {
    "disconnect-check": "Disconnect: ampere rating, sight and distance";
    rules "disconnect-rating", "disconnect-location";
    inputs {
        LOAD_CURRENTS "sum of loads" = List<Current>("load-currents", "Rated-load or selection current of each load behind it.")
            .between(0.01, 2000.0).optional();
        RATED_LOAD "RLA" = Current("rated-load-current", "Rated-load amps of the compressor, where the loads are not listed.")
            .between(0.1, 2000.0).optional();
        FAN_CURRENT "FLA" = Current("fan-full-load-current", "Full-load amps of the outdoor fan, where the loads are not listed.")
            .between(0.05, 200.0).optional();
        DISCONNECT_RATING = Current("disconnect-rating", "Ampere rating of the disconnect, to compare.")
            .between(1.0, 3000.0).optional();
        DISTANCE = Length("distance", "Distance from the unit.").between(0.0, 1000.0).optional();
        IN_SIGHT = OneOf<YesNo>("in-sight", "Whether it can be seen from the unit.").optional();
        EDITION;
    }
    outputs {
        LEAST_RATING "least rating" = Current("least-rating", "115 % of the loads together.");
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
    let (loads, rating) = (sheet.list(LOAD_CURRENTS), sheet.maybe(DISCONNECT_RATING));
    let (distance, in_sight) = (sheet.maybe(DISTANCE), sheet.one_of(IN_SIGHT));
    let (compressor, fan) = (sheet.maybe(RATED_LOAD), sheet.maybe(FAN_CURRENT));
    let known = !loads.is_empty() || compressor.is_some();
    if !known && (rating.is_some() || (distance.is_none() && in_sight.is_none())) {
        return Err(sheet.missing(LOAD_CURRENTS));
    }
    let mut found = Vec::new();
    let mut verdict = ENOUGH;
    if known {
        let least = match (loads.is_empty(), compressor, fan) {
            (true, Some(compressor), Some(fan)) => sheet.give(LEAST_RATING, 1.15 * (compressor + fan)),
            (true, Some(compressor), None) => {
                sheet.assume("`fan-full-load-current` not given: no other load behind it assumed");
                sheet.give(LEAST_RATING, 1.15 * compressor)
            }
            _ => sheet.give(LEAST_RATING, 1.15 * loads.sum()),
        };
        let rule = sheet.rule("disconnect-rating");
        if let Some(rating) = rating {
            sheet.at_least("disconnect", rating, least, rule);
            if least.exceeds(rating) {
                return sheet.verdict(TOO_SMALL, format!("{rating} is below {least}"));
            }
            found.push(format!("{rating} is not below {least}"));
        } else {
            found.push(format!("it must be rated for at least {least}"));
            verdict = WORKED_OUT;
        }
    }
    let fifty = Known::fixed(Length::new::<foot>(50.0));
    let rule = sheet.rule("disconnect-location");
    sheet.output(FARTHEST, fifty);
    if let Some(distance) = distance {
        sheet.at_most("distance", distance, fifty, rule);
    }
    if in_sight == Some(YesNo::No) || distance.is_some_and(|distance| distance.exceeds(fifty)) {
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
        (Some(distance), Some(_)) => found.push(format!("it is in sight, {distance} away")),
    }
    if found.is_empty() {
        found.push("its place is right as far as given; its rating was not judged".to_owned());
    }
    sheet.verdict(verdict, found.join("; "))
}
