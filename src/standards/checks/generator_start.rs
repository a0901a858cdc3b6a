//! Whether a generator or inverter starts a compressor.

use super::prelude::*;

calculation! {
    "generator-start": "Generator or inverter against running and starting volt-amperes";
    inputs {
        LOCKED_ROTOR = Current("locked-rotor-current", "Locked-rotor current of the largest motor.");
        SUPPLY = Voltage("supply-voltage", "Voltage of the motor.");
        OTHER_LOAD = ApparentPower("other-load", "Everything else that runs meanwhile.")
            .between(0.0, 1e6).or("0 VA");
        SURGE_RATING = ApparentPower("surge-rating", "Volt-amperes the source gives for a start.")
            .between(1.0, 1e8);
        RUNNING_RATING = ApparentPower("running-rating", "Volt-amperes the source gives continuously.")
            .between(1.0, 1e8).optional();
        RUNNING_CURRENT = Current("running-current", "Running current of that motor.").optional();
        PHASES;
    }
    outputs {
        STARTING_LOAD = ApparentPower("starting-load", "Locked rotor and everything else.");
        RUNNING_LOAD = ApparentPower("running-load", "Running, when the running current is given.");
    }
    verdicts {
        STARTS = plain("starts", "The source gives what the start asks for.");
        MAY_START = plain("may-start", "The start asks for more, up to half as much again: it may start with a deep sag.");
        TOO_SMALL = plain("too-small", "The start asks for far more than the source gives.");
        OVERLOADED_RUNNING = plain("overloaded-running", "It starts, and is overloaded while it runs.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let locked = sheet.need(LOCKED_ROTOR)?.get();
    let supply = sheet.need(SUPPLY)?.get();
    let other = sheet.need(OTHER_LOAD)?.get();
    let surge = sheet.need(SURGE_RATING)?.get();
    let (three, factor) = phase_factor(&sheet);
    let start = locked * supply * factor + other;
    let apparent = Quantity::apparent;
    let times = if three { "1.732 x " } else { "" };
    sheet.line(
        if three {
            "S = 1.732 x V x LRA + other"
        } else {
            "S = V x LRA + other"
        },
        format!(
            "{times}{} x {} + {}",
            keyed(supply),
            keyed(locked),
            keyed(apparent(other))
        ),
        keyed(apparent(start)),
    );
    sheet.output(STARTING_LOAD, apparent(start));
    sheet.at_most(
        "start",
        apparent(start),
        apparent(surge),
        "rating of the source as given",
    );
    sheet.source(format!(
        "definition of apparent power; allowance of half as much again: {COMMON}"
    ));
    sheet.note(
        "a start device lowers the locked-rotor current; inverter-driven compressors have none worth naming",
    );
    if let (Some(running), Some(rated)) = (
        sheet.maybe(RUNNING_CURRENT).map(Known::get),
        sheet.maybe(RUNNING_RATING).map(Known::get),
    ) {
        if exceeds(running, locked) {
            return Err(InputError::Contradiction {
                what: format!(
                    "`running-current` {} is above `locked-rotor-current` {}; the two have been swapped",
                    text(running),
                    text(locked)
                ),
            });
        }
        let load = running * supply * factor + other;
        sheet.output(RUNNING_LOAD, apparent(load));
        sheet.line(
            if three {
                "S_running = 1.732 x V x I + other"
            } else {
                "S_running = V x I + other"
            },
            format!(
                "{times}{} x {} + {}",
                keyed(supply),
                keyed(running),
                keyed(apparent(other))
            ),
            keyed(apparent(load)),
        );
        sheet.at_most(
            "running",
            apparent(load),
            apparent(rated),
            "rating of the source as given",
        );
        if exceeds(load, rated) && !exceeds(start, surge) {
            return sheet.verdict(
                OVERLOADED_RUNNING,
                format!("{} running on a source for {}", apparent(load), apparent(rated)),
            );
        }
    }
    let found = format!(
        "{} to start on a source that gives {}",
        apparent(start),
        apparent(surge)
    );
    if exceeds(start, surge * 1.5) {
        sheet.verdict(TOO_SMALL, found)
    } else if exceeds(start, surge) {
        sheet.verdict(MAY_START, found)
    } else {
        sheet.verdict(STARTS, found)
    }
}
