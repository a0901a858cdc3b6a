//! A running current against the breaker or fuse that carries it.

use super::prelude::*;

calculation! {
    "device-load": "Running current against the breaker or fuse";
    rules "continuous-loads";
    inputs {
        RUNNING_CURRENT "I" = Current("running-current", "Highest current of a hot conductor, all that can run together on.")
            .between(0.0, 3000.0).read();
        DEVICE "rating" = Current("protective-device-rating", "Rating of the breaker or fuse.").between(1.0, 6000.0);
        METER_ERROR;
        EDITION;
    }
    outputs {
        SHARE_OF_DEVICE "share" = Ratio("share-of-device", "Running current over the device's rating.");
    }
    verdicts {
        BELOW = plain("below", "Not above 80 % of the rating, so far as this current goes.");
        NEAR = plain("near", "Between 80 % and 100 % of the rating.");
        ABOVE = violation("above", "Above the rating.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (running, device) = (sheet.need(RUNNING_CURRENT)?, sheet.need(DEVICE)?);
    let part = sheet.give(SHARE_OF_DEVICE, running / device);
    sheet.at_most("current", running, device, COMMON);
    sheet.source(COMMON);
    sheet.rule("continuous-loads");
    let compared = format!("{running} is {part} of the {device} device");
    if running.exceeds(device) {
        sheet.verdict(ABOVE, format!("{compared}: above its rating"))
    } else if running.exceeds(device * 0.8) {
        sheet.verdict(NEAR, compared)
    } else {
        sheet.verdict(BELOW, compared)
    }
}
