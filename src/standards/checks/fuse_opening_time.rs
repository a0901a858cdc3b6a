//! How long a fuse may take to open.

use super::prelude::*;

calculation! {
    "fuse-opening-time": "Opening time of a fuse from its melting energy or its class";
    inputs {
        FUSE_RATING = Current("fuse-rating", "Rating of the fuse.").between(0.1, 6000.0);
        LOAD_CURRENT = Current("load-current", "Current through it.").between(0.001, 1e6);
        MELTING_ENERGY = JouleIntegral("melting-energy", "Melting energy of the maker, for currents far above the rating.")
            .between(1e-6, 1e12).optional();
        FUSE_CLASS = OneOf<FuseClass>("fuse-class", "branch: low-voltage fuse; e-rated: medium-voltage E rating.").or("branch");
    }
    outputs {
        MULTIPLE = Ratio("multiple", "Current over rating.");
        OPENING_TIME = Time("opening-time", "Time to melt, from the melting energy.");
        LONGEST_TIME = Time("longest-time", "Longest time the standard allows at this multiple.");
    }
    verdicts {
        CARRIES = plain("carries", "The fuse must carry this current.");
        OPENS = plain("opens", "The fuse opens within the time given.");
    }
}

choice! { FuseClass { Branch = "branch", ERated = "e-rated" } }

/// How the rule for medium-voltage fuses is cited.
const E_RATED: &str = "medium-voltage E rating";

fn work(mut sheet: Sheet<'_>) -> Answer {
    let rating = sheet.need(FUSE_RATING)?.get();
    let current = sheet.need(LOAD_CURRENT)?.get();
    let multiple = share(current, rating);
    sheet.output(MULTIPLE, Quantity::ratio(multiple));
    sheet.line(
        "multiple = I / rating",
        format!("{} / {}", keyed(current), keyed(rating)),
        keyed_number(multiple),
    );
    if let Some(energy) = sheet.maybe(MELTING_ENERGY).map(Known::quantity) {
        // Below that the element loses heat while it melts, and the class tells more than the energy does.
        if multiple >= 5.0 {
            let time = Quantity {
                kind: Kind::Time,
                base: energy.base / current.get::<ampere>().powi(2),
            };
            sheet.line(
                "t = I2t / I^2",
                format!("{} / ({})^2", keyed(energy), keyed(current)),
                keyed(time),
            );
            sheet.output(OPENING_TIME, time);
            sheet.assume("constant melting energy, which holds well above five times the rating");
            sheet.source("definition of the joule integral");
            return sheet.verdict(OPENS, format!("it melts after {time}"));
        }
        sheet.note(format!(
            "at {multiple:.1} times its rating the melting energy is not constant and gives no time; its class does, as far as it goes"
        ));
    }
    if sheet.need_one(FUSE_CLASS)? == FuseClass::ERated {
        sheet.source(format!("{E_RATED}: 100E or less opens within 300 s at 200 to 240 %, above 100E within 600 s at 220 to 264 % - https://rwdconsulting.co.uk/kfdvb5/motor-fuse-rating-chart.html; the second figure from memory"));
        let small = !exceeds(rating, amps(100.0));
        let seconds = if small { 300.0 } else { 600.0 };
        if exceeds(multiple, if small { 2.0 } else { 2.2 }) || multiple >= if small { 2.0 } else { 2.2 } {
            let time = Quantity {
                kind: Kind::Time,
                base: seconds,
            };
            sheet.output(LONGEST_TIME, time);
            sheet.line(
                "longest time",
                format!(
                    "from {from} times the rating on, {E_RATED}",
                    from = if small { "2" } else { "2.2" }
                ),
                keyed(time),
            );
            return sheet.verdict(OPENS, format!("it must open within {time}"));
        }
        return sheet.cannot_tell(format!(
            "at {multiple:.2} times its rating the rule sets no time; the maker's curve tells"
        ));
    }
    let fuses = &table::OVERCURRENT.fuses;
    let name = sheet.table(fuses);
    sheet.at_most(
        "current carried for ever",
        current,
        rating * (fuses.more.carry_percent / 100.0),
        "UL 248",
    );
    if multiple <= fuses.more.carry_percent / 100.0 {
        return sheet.verdict(
            CARRIES,
            format!("{multiple:.2} times its rating, which it must carry"),
        );
    }
    if multiple >= 1.35 - 1e-9 {
        let row = fuses
            .more
            .open_135_percent
            .iter()
            .find(|row| rating.get::<ampere>() <= row.rating_max_a);
        if let Some(row) = row {
            let time = Quantity {
                kind: Kind::Time,
                base: row.within_min * 60.0,
            };
            sheet.output(LONGEST_TIME, time);
            sheet.line(
                "longest time at 135 %",
                format!("{name}, {} fuse", keyed(rating)),
                keyed(time),
            );
            return sheet.verdict(OPENS, format!("at {multiple:.2} times its rating it must open within {time}, and does so sooner the higher the current"));
        }
    }
    sheet.cannot_tell(format!(
        "at {multiple:.2} times its rating it may carry or open; the maker's curve tells"
    ))
}
