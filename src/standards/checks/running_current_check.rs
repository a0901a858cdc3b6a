//! Running current of a compressor against its rated-load current.

use super::prelude::*;
/// Less than this share of rated-load current is less than a loaded compressor draws.
const LEAST: f64 = 0.50;
/// More than this share is more than a hot day explains.
const MOST: f64 = 1.10;

calculation! {
    "running-current-check": "Running current against rated-load current";
    inputs {
        MEASURED_CURRENT "I" = Current("measured-current", "Current of the compressor after ten minutes' running.")
            .between(0.0, 3000.0).read();
        RATED_LOAD "RLA" = Current("rated-load-current", "Rated-load amps (RLA) on the nameplate.")
            .between(0.1, 2000.0);
        METER_ERROR;
    }
    outputs {
        SHARE_OF_RATED "share" = Ratio("share-of-rated", "Running current over rated-load current.");
    }
    verdicts {
        BELOW = plain("below", "Less than half of rated: hardly loaded, or not pumping.");
        NORMAL = plain("normal", "Between half and 110 % of rated.");
        ABOVE = plain("above", "More than 110 % of rated.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (measured, rated) = (sheet.need(MEASURED_CURRENT)?, sheet.need(RATED_LOAD)?);
    let part = sheet.give(SHARE_OF_RATED, measured / rated);
    sheet.at_least("current", measured, rated * LEAST, COMMON);
    sheet.at_most("current", measured, rated * MOST, COMMON);
    sheet.source(COMMON);
    sheet.note(
        "rated-load current is a rating for sizing conductors: a hot day, low voltage or a dirty coil can pass it, so a \
         current above it is not by itself an overload (from memory)",
    );
    let compared = format!("{measured} is {part} of the rated {rated}");
    if measured.exceeds(rated * MOST) {
        sheet.verdict(ABOVE, format!("{compared}, more than 110 %"))
    } else if (rated * LEAST).exceeds(measured) {
        sheet.verdict(BELOW, format!("{compared}, less than half"))
    } else {
        sheet.verdict(NORMAL, compared)
    }
}
